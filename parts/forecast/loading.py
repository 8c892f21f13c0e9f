"""The loader of a forecast: what the register knows of the open work of a locomotive, in a fixed number of queries."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta

from django.db.models import Case, Count, Exists, F, OuterRef, Q, Subquery, When
from django.db.models.functions import Coalesce

from core.domain.catalogue import PUT_BACK
from core.models import Event, Person

from ..domain import open_work
from ..domain.attendance import Days
from ..domain.forecast_causes import pace_told
from ..domain.forecast_rows import ThreePoint, Workshop
from ..domain.job_words import Ending, StepEnd
from ..domain.open_work import (
    GETTING_READY,
    PUTTING_TOGETHER,
    Hours,
    Log,
    OpenSubassembly,
    Outside,
    Release,
    workshop_of,
)
from ..domain.planned_work import MachineHours, Planned, peopled, with_pace_told, with_planned
from ..domain.ranking import REFIT
from ..domain.words import Need, State
from ..models import (
    Component,
    DayJob,
    Guess,
    HoldPoint,
    HoldRelease,
    Locomotive,
    Machine,
    MachineWork,
    Promise,
    Renewal,
    RenewalStep,
    Repair,
)
from ..queries.attendance import load_days, load_hours, load_skills
from ..queries.readiness import load_now

STEPS_DONE = ("strip", "clean", "crack-check", "accept", "refit")
LOOKED_AT = (State.CRACK_CHECKED, State.ACCEPTED, State.REFITTED, State.WITHDRAWN)
LATELY = timedelta(days=90)
"""The pace is that of the last ninety days. Common practice, no source."""


class OpenWork:
    """Everything that a forecast rests on, loaded once; `workshop` gives it with something changed, for a what-if."""

    def __init__(self, locomotive: Locomotive, today: date):
        self.locomotive, self.today = locomotive, today
        self.hours = load_hours()
        machine_work = list(_machine_work(locomotive))
        self.planned = [_planned(row) for row in machine_work if row.done_on is None]
        self.machines = _machines() if self.planned else []
        people = load_days() if self.planned or self.hours.by_people else {}
        self.skilled = _skilled(people, today) if self.planned else {}
        self.took = _took(locomotive, machine_work)
        self.assumes: tuple[str, ...] = ()
        if self.hours.by_people:
            self.hours, counted = peopled(self.hours, list(people.values()), today)
            self.assumes = (counted,)
        self.groups = load_groups(locomotive, today)
        self.outside = [*_renewals(locomotive), *_repairs(locomotive), *_out(locomotive)]
        self.releases = _releases(locomotive, today)
        self.log = load_log(locomotive, self.hours, today)
        if any(group.steps and not group.guess for group in self.groups) and self.log.steps:
            pace = pace_told(self.log.steps, self.log.open_days)
            self.assumes = (f"In the last {LATELY.days} days {pace}; what nobody guessed goes on so.", *self.assumes)

    def workshop(
        self, *, more_hands: int = 0, leave_out: Iterable[str] = (), firm: str = "", later: int = 0
    ) -> Workshop:
        """`later`: days that what this firm has promised comes later."""
        hours = self.hours
        if more_hands and hours.hands:
            hands = ThreePoint(*(max(each + more_hands, 0) for each in hours.hands))
            hours = Hours(week=hours.week, unusual=hours.unusual, hands=hands)
        outside = [_later(each, later, self.today) if each.firm == firm and later else each for each in self.outside]
        found = workshop_of(self.groups, outside, self.releases, hours, self.log, self.today, leave_out)
        found = with_planned(
            replace(found, assumes=self.assumes), self.planned, self.machines, self.skilled, hours.minutes_of_a_day
        )
        return with_pace_told(found, self.took)


def _later(each: Outside, days: int, today: date) -> Outside:
    fields = {name: getattr(each, name) for name in ("name", "subassembly", "firm", "ordered", "more")}
    return Outside(**fields, promised=max(each.promised or today, today) + timedelta(days))


def load_groups(locomotive: Locomotive, today: date) -> list[OpenSubassembly]:
    found = load_now(locomotive, today).readiness()
    by_id = found.order.by_id
    guesses = {guess.subassembly_id: guess for guess in Guess.objects.filter(subassembly__locomotive=locomotive)}
    looked = _looked(locomotive)
    return [
        OpenSubassembly(
            code=sub.sub.code,
            name=sub.sub.name,
            parent=by_id[sub.sub.parent].code if sub.sub.parent in by_id else "",
            after=tuple(by_id[a].code for up in found.order.lineage[sub.sub.id] for a in by_id[up].after if a in by_id),
            needs={Need(need): number for need, number in sub.needs.items()},
            ready=sub.own.ready,
            looked=looked[sub.sub.id][0],
            found=looked[sub.sub.id][1],
            guess=_guess(guesses.get(sub.sub.id)),
        )
        for sub in found.subassemblies
    ]


def _guess(guess: Guess | None) -> open_work.Guess | None:
    if guess is None:
        return None
    days = ThreePoint(float(guess.least), float(guess.likely), float(guess.most))
    return open_work.Guess(days=days, hands=guess.hands, steps=guess.steps, on=guess.on)


def _looked(locomotive: Locomotive) -> defaultdict[int, tuple[int, int]]:
    """By subassembly, how many pieces were looked at, and how many of them were mended, renewed or given up."""
    mended = Exists(Repair.objects.filter(component=OuterRef("pk")))
    renewed = Exists(Renewal.objects.filter(replaces=OuterRef("pk")))
    pieces = Component.objects.filter(Q(place__locomotive=locomotive) | Q(came_off__locomotive=locomotive))
    pieces = pieces.annotate(
        subassembly=Coalesce("place__subassembly", "came_off__subassembly"),
        needed_work=Case(When(mended | renewed | Q(state=State.WITHDRAWN), then=1), default=0),
    ).filter(Q(state__in=LOOKED_AT) | mended | renewed)
    rows = pieces.order_by().values_list("subassembly", "needed_work").annotate(number=Count("*"))
    counts: defaultdict[int, tuple[int, int]] = defaultdict(lambda: (0, 0))
    for subassembly, needed_work, number in rows:
        looked, found = counts[subassembly]
        counts[subassembly] = looked + number, found + number * needed_work
    return counts


# --- people and machines


def _machine_work(locomotive: Locomotive) -> Iterable[MachineWork]:
    """Done and still to do."""
    found = MachineWork.objects.filter(subassembly__locomotive=locomotive)
    return found.select_related("subassembly", "machine").order_by("id")


def _planned(row: MachineWork) -> Planned:
    needs = [row.machine.name if row.machine else "", row.skill]
    days = ThreePoint(float(row.least), float(row.likely), float(row.most))
    code = row.subassembly.code
    return Planned(name=row.what, subassembly=code, days=days, hands=row.hands, needs=tuple(filter(None, needs)))


def _machines() -> list[MachineHours]:
    found = Machine.objects.filter(out_of_use=False)
    return [MachineHours(name=each.name, units=each.units, week=each.week) for each in found]


def _skilled(people: dict[int, Days], today: date) -> dict[str, list[Days]]:
    """By skill or authorisation, the days of those who have it."""
    found: defaultdict[str, list[Days]] = defaultdict(list)
    for person, names in load_skills(today).items():
        for name in names:
            found[name].append(people.get(person, Days()))
    for actor in Person.objects.actors(today):
        for name in actor.authorised:
            found[name].append(people.get(actor.id, Days()))
    return found


def _took(locomotive: Locomotive, machine_work: Iterable[MachineWork]) -> dict[str, list[str]]:
    """By kind of work, how long finished jobs took beside what was thought."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for need, took in DayJob.objects.filter(sheet__locomotive=locomotive).exclude(took="").values_list("need", "took"):
        found[PUTTING_TOGETHER if need == REFIT else GETTING_READY].append(took)
    found[GETTING_READY] += [row.took for row in machine_work if row.took]
    return found


# --- what others do


def _renewals(locomotive: Locomotive) -> Iterator[Outside]:
    for renewal in Renewal.objects.of_locomotive(locomotive):
        left = sorted((s for s in renewal.steps.all() if s.ended == StepEnd.OPEN), key=lambda s: (s.number, s.pk))
        if left:
            step = left[0]
            yield Outside(
                name=f"{renewal.position.words}: {step.name}",
                subassembly=renewal.position.subassembly.code,
                firm=step.by_words,
                promised=step.promised,
                ordered=step.ordered,
                more=len(left) - 1,
            )


def _repairs(locomotive: Locomotive) -> Iterator[Outside]:
    """Those that a firm does; what is mended here is among the work."""
    found = Repair.objects.under_way().filter(component__place__locomotive=locomotive, firm__isnull=False)
    for repair in found.select_related("firm", "component__place__subassembly").order_by("id"):
        yield Outside(
            name=f"{repair.component.place.words}: {repair.what}",
            subassembly=repair.component.place.subassembly.code,
            firm=repair.by_words,
            promised=repair.promised,
            ordered=repair.ordered,
        )


def _out(locomotive: Locomotive) -> Iterator[Outside]:
    """Pieces that are out on a promise, and that no repair or renewal tells of."""
    told = Exists(Repair.objects.under_way().filter(component=OuterRef("pk"), firm__isnull=False))
    made = Exists(Renewal.objects.under_way().filter(position=OuterRef("place")))
    found = Component.objects.live().filter(~told & ~made, promised_back__isnull=False, place__locomotive=locomotive)
    for piece in found.select_related("place__subassembly", "location__firm").order_by("id"):
        assert piece.place is not None  # asked for by the locomotive of its place
        yield Outside(
            name=f"{piece.place.words}: back from {piece.location}",
            subassembly=piece.place.subassembly.code,
            firm=str(piece.location or ""),
            promised=piece.promised_back,
        )


def _releases(locomotive: Locomotive, today: date) -> list[Release]:
    held = HoldPoint.objects.of_locomotive(locomotive).filter(step=None).select_related("component__place__subassembly")
    return [
        Release(
            name=f"{hold.name}: {hold.on_words}",
            subassembly=_subassembly_of(hold),
            stops=tuple(hold.stops),
            outside=hold.is_outside,
            asked=hold.asked_on,
        )
        for hold in held.order_by("id")
        if hold.stops_on(today)
    ]


def _subassembly_of(hold: HoldPoint) -> str:
    place = hold.position or (hold.component.place if hold.component else None)
    subassembly = hold.subassembly or (place.subassembly if place else None)
    return subassembly.code if subassembly else ""


# --- what the log tells


def load_log(locomotive: Locomotive, hours: Hours, today: date) -> Log:
    since = today - LATELY
    done = Event.objects.about("locomotive", locomotive.pk).filter(action__in=STEPS_DONE, at__date__gte=since)
    return Log(
        late=_late_by_firm(),
        asking=[
            (on - asked).days
            for on, asked in HoldRelease.objects.filter(hold__asked_on__isnull=False)
            .order_by("id")
            .values_list("on", "hold__asked_on")
            if asked
        ],
        steps=done.count(),
        open_days=len(hours.days(since, LATELY.days)),
    )


def _late_by_firm() -> dict[str, list[int]]:
    """Days after the day that was promised first on which each firm was done; early counts as on time."""
    late = defaultdict(list)
    for model, of, over in ((RenewalStep, "step", StepEnd.DONE.value), (Repair, "repair", Ending.DONE.value)):
        put_back = Promise.objects.filter(event__action__in=PUT_BACK)
        mistaken = put_back.filter(**{of: OuterRef(of)}, id__gt=OuterRef("pk"), old=OuterRef("new"))
        stand = Promise.objects.filter(**{of: OuterRef("pk")}, new__isnull=False).exclude(Exists(mistaken))
        first = stand.order_by("id").values("new")[:1]
        rows = model.objects.filter(ended=over, firm__isnull=False, done__isnull=False).order_by("id")
        rows = rows.annotate(first=Coalesce(Subquery(first), F("promised"))).filter(first__isnull=False)
        for firm, done, due in rows.values_list("firm__name", "done", "first"):
            late[firm].append(max((done - due).days, 0))
    return dict(late)
