"""What people say of the work to come: the working week, days unlike it, guesses; and the forecasts that are kept."""

from datetime import date, timedelta
from decimal import Decimal

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Event, Person

from ..actions import writing
from ..domain.forecast import Forecast, forecast
from ..domain.sequence import OrderLoop
from ..models import (
    Guess,
    KeptForecast,
    Locomotive,
    Machine,
    MachineWork,
    Subassembly,
    UnusualDay,
    WorkingWeek,
)
from ..models.planning import DAYS, TOOK
from .loading import OpenWork

HANDS = ("poor", "usual", "good")


def week_edits():
    """The events that change what the form of the working week shows."""
    return Event.objects.filter(action="set working week")


def set_working_week(actor: Person, *, seen: int | None = None, **entered: int) -> WorkingWeek:
    """Minutes by weekday, and people on a poor, a usual and a good day."""
    if not entered["poor"] <= entered["usual"] <= entered["good"] or entered["usual"] < 1:
        raise Refused(
            Refusal(
                "usual",
                "The numbers of people are out of order.",
                "Write the poor day first: no more than on a usual day, which has no more than a good one.",
            )
        )
    with writing.one_transaction():
        writing.allow(actor, "plan")
        writing.not_overtaken(week_edits(), seen)
        before = WorkingWeek.objects.select_for_update().first()
        was = {name: getattr(before, name) for name in (*DAYS, *HANDS)} if before else {}
        event = writing.log(actor, "set working week", data={"was": was})
        week, _ = WorkingWeek.objects.update_or_create(pk=1, defaults={**entered, "last_event": event.pk})
        return week


def set_unusual_day(actor: Person, *, date: date, minutes: int, note: str = "") -> UnusualDay:
    """One day is open otherwise than its weekday says; said again, it is replaced."""
    with writing.one_transaction():
        writing.allow(actor, "plan")
        writing.log(actor, "set unusual day", remark=note, data={"date": date.isoformat(), "minutes": minutes})
        day, _ = UnusualDay.objects.update_or_create(date=date, defaults={"minutes": minutes, "note": note})
        return day


def _in_order(least: Decimal, likely: Decimal, most: Decimal) -> None:
    if not least <= likely <= most:
        raise Refused(
            Refusal(
                "likely",
                "The three guesses are out of order.",
                "Write the least first, then the likely, then the most.",
            )
        )


def guess_edits(subassembly: Subassembly):
    return Event.objects.about("subassembly", subassembly.pk).filter(action="guess work left")


def guess_work_left(
    actor: Person,
    subassembly: Subassembly,
    *,
    least: Decimal,
    likely: Decimal,
    most: Decimal,
    hands: int,
    steps: int,
    seen: int | None = None,
) -> Guess:
    """Open days that the work left takes so many hands, as it looks today with so many steps left."""
    _in_order(least, likely, most)
    with writing.one_transaction():
        writing.allow(actor, "plan")
        writing.not_overtaken(guess_edits(subassembly), seen)
        before = Guess.objects.select_for_update().filter(subassembly=subassembly).first()
        entered = {"least": least, "likely": likely, "most": most, "hands": hands}
        was = {name: str(getattr(before, name)) for name in entered} if before else {}
        data = {"was": was, "guess": {name: str(value) for name, value in entered.items()}}
        writing.log(actor, "guess work left", subassembly=subassembly, locomotive=subassembly.locomotive, data=data)
        entered |= {"steps": steps, "on": writing.today(), "by": actor}
        guess, _ = Guess.objects.update_or_create(subassembly=subassembly, defaults=entered)
        return guess


def plan_machine_work(
    actor: Person,
    subassembly: Subassembly,
    *,
    what: str,
    least: Decimal,
    likely: Decimal,
    most: Decimal,
    hands: int = 1,
    machine: Machine | None = None,
    skill: str = "",
) -> MachineWork:
    """Work that a machine or a skill is needed for, guessed apart from the rest of its subassembly."""
    _in_order(least, likely, most)
    if machine is None and not skill:
        raise Refused(
            Refusal("machine", "Choose a machine or what somebody can do.", "Other work is part of the guess.")
        )
    with writing.one_transaction():
        writing.allow(actor, "plan")
        made = MachineWork.objects.create(
            subassembly=subassembly, what=what, least=least, likely=likely, most=most, hands=max(hands, 1),
            machine=machine, skill=skill,
        )  # fmt: skip
        _log_machine_work(actor, made, "plan machine work")
        return made


def end_machine_work(actor: Person, work: MachineWork, took: str = "") -> None:
    """It is done. `took`: how long, beside the guess; may be left blank."""
    with writing.one_transaction():
        writing.allow(actor, "plan")
        writing.hold(work)
        if work.done_on is None:
            work.done_on, work.took = writing.today(), took if took in TOOK else ""
            work.save()
            _log_machine_work(actor, work, "end machine work", took=work.took)


def _log_machine_work(actor: Person, work: MachineWork, word: str, **data: str) -> None:
    locomotive = work.subassembly.locomotive
    writing.log(actor, word, subassembly=work.subassembly, locomotive=locomotive, data={"work": work.what} | data)


WEEK = timedelta(days=7)


def keep_weekly(today: date) -> list[KeptForecast]:
    """A forecast of each locomotive in works whose last one is a week old."""
    kept = []
    for locomotive in Locomotive.objects.with_open_overhaul():
        last = KeptForecast.objects.filter(locomotive=locomotive).order_by("-on").first()
        if last is not None and today - last.on < WEEK:
            continue
        try:
            found = forecast(OpenWork(locomotive, today).workshop())
        except OrderLoop:
            continue  # its page says where the order contradicts itself
        if made := keep(locomotive, found, today):
            kept.append(made)
    return kept


def keep(locomotive: Locomotive, found: Forecast, today: date) -> KeptForecast | None:
    """The forecast of a day, to compare later ones with; another one of that day replaces it."""
    if found.whole is None:
        return None
    subassemblies = {
        code: [each and each.isoformat() for each in (outlook.half, outlook.nine_in_ten)]
        for code, outlook in found.subassemblies.items()
    }
    kept, _ = KeptForecast.objects.update_or_create(
        locomotive=locomotive,
        on=today,
        defaults={
            "at": timezone.now(),
            "half": found.whole.half,
            "nine_in_ten": found.whole.nine_in_ten,
            "subassemblies": subassemblies,
            "decided_by": [each.name for each in found.whole.decided_by],
            "assumes": list(found.assumes),
        },
    )
    return kept
