"""Work that was planned for a machine or a skill, as jobs of a day: as far as the machines have time on it."""

from datetime import date

from ..domain.day_sheet import BETWEEN as COMMA
from ..domain.day_sheet import NEVER_ALONE, ON_A_MACHINE, Task, that_fit
from ..domain.plain import capital
from ..models import DayJob, HoldPoint, Locomotive, Machine, MachineWork
from ..queries.attendance import load_hours
from .tasks import DayTask, in_order

MINUTES = 480
"""Of a day for which nobody entered opening hours."""
LIFTS = ("hoist", "crane", "lifting")
MACHINE = (
    "Loose clothing, gloves and rings are drawn into a machine: guards on, eyes protected, hands off until it stands. "
    "Only whoever the works allows works it."
)
"""Common practice, no source."""
SLUNG = "Keep out from under what hangs. The person in charge of the lift decides how."
"""Common practice, no source."""


def machine_tasks(locomotive: Locomotive, day: date) -> list[DayTask]:
    """The open ones in the order of the subassemblies. Where somebody stopped work on a piece, none of its
    subassembly."""
    stops = HoldPoint.objects.stops_now(locomotive)
    stopped = {sub for of in stops.values_list("position__subassembly", "component__place__subassembly") for sub in of}
    rows = [row for row in MachineWork.objects.to_do(locomotive) if row.subassembly_id not in stopped]
    if not rows:
        return []
    open_minutes = _open_minutes(day)
    there = {m.name: (m.units, _minutes(m, day, open_minutes)) for m in Machine.objects.filter(out_of_use=False)}
    others = DayJob.objects.on_machines(day).exclude(machine_work__in=rows)
    asked = [(f"other {job.pk}", job.machine_work) for job in others] + [(str(row.pk), row) for row in rows]
    wanted = [(key, row.machine.name, float(row.likely) * open_minutes) for key, row in asked if row.machine]
    fits = set(that_fit(wanted, there))
    return [_told(row) for row in rows if not row.machine or str(row.pk) in fits]


def _open_minutes(day: date) -> float:
    hours = load_hours()
    return hours.minutes(day) or float(hours.minutes_of_a_day) or MINUTES


def _minutes(machine: Machine, day: date, open_minutes: float) -> float:
    own = machine.week[day.weekday()]
    return open_minutes if own is None else own


def _told(row: MachineWork) -> DayTask:
    words = " ".join(filter(None, [row.what, row.machine.name if row.machine else "", row.skill])).lower()
    lifts = any(word in words for word in LIFTS)
    href = f"{row.subassembly.get_absolute_url()}#machine-{row.pk}"
    where = row.machine.name if row.machine else ""
    hot = [subject for subject in NEVER_ALONE if subject in words]
    task = Task(
        key=f"{ON_A_MACHINE} {href}",
        words=f"{capital(row.what)}: {row.subassembly.name}",
        need=ON_A_MACHINE,
        look=row.skill,
        hands=row.hands,
        danger=COMMA.join(dict.fromkeys([*(["lifting"] if lifts else []), *hot])),
        where=in_order(where),
    )
    cautions = (SLUNG, MACHINE) if lifts else (MACHINE,) if row.machine else ()
    return DayTask(task=task, href=href, where=where, cautions=cautions, machine_work=row.pk)
