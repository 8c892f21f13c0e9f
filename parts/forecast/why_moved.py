"""What happened between the forecasts that were kept, as causes. The queries do not grow with what happened."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from itertools import pairwise

from django.db.models import F, Q
from django.utils.timezone import make_aware

from core.domain.catalogue import ACT, PUT_BACK
from core.models import Event, EventSubject

from ..domain.forecast_causes import EARLIER, EITHER, LATER, Cause, Moved, counted, cracks, guess, promises
from ..domain.forecast_words import Kept
from ..domain.grouping import AUTHORISED
from ..domain.plain import day as told
from ..domain.words import Result, State
from ..models import Component, HoldPoint, Locomotive, Position, Promise
from ..queries.measured import measured

DONE = {
    ("accept", AUTHORISED): ("was accepted", "were accepted", EARLIER, 7),
    ("pass",): ("was renewed", "were renewed", EARLIER, 6),
    ("refit",): ("was refitted", "were refitted", EARLIER, 8),
    ("leave alone",): ("was left as it is", "were left as they are", EARLIER, 8),
    ("take off",): ("was taken off again", "were taken off again", LATER, 5),
    ("send back",): ("went back to be done again", "went back to be done again", LATER, 5),
    ("withdraw",): ("was withdrawn", "were withdrawn", LATER, 4),
}
"""What was done to pieces, how that is said, and which way it pushes."""
DONE_TO_PIECES = [action for actions in DONE for action in actions]
FORWARD = {action for actions, (_, _, way, _) in DONE.items() if way == EARLIER for action in actions}
NOTHING = Cause(words="nothing was accepted, renewed or refitted in between", way=LATER, rank=5)
ENTERED = ("guess work left", "set working week", "set unusual day", "plan machine work", "promise anew")
HELD = {
    "add hold point": ("set", LATER), "release lapsed": ("lapsed", LATER), "strike release": ("struck", LATER),
    "release hold point": ("released", EARLIER), "release counts again": ("released again", EARLIER),
}  # fmt: skip


@dataclass(slots=True)
class Period:
    """What happened from one kept forecast to the next."""

    events: list[Event] = field(default_factory=list)
    promises: list[Promise] = field(default_factory=list)
    cracks: int = 0


class WhyMoved:
    """Of some forecasts that were kept, one after the other."""

    def __init__(self, locomotive: Locomotive, kept: Sequence[Kept]):
        self.periods: defaultdict[date, Period] = defaultdict(Period)  # by the day of the later forecast
        if len(kept) < 2:
            return
        self.ends = [(_moment(before), _moment(now), now.on) for before, now in pairwise(kept)]
        since = kept[0].on
        self.names = dict(locomotive.subassemblies.values_list("pk", "name"))
        for event in _events(locomotive, since):
            self._into(event.at, lambda period, event=event: period.events.append(event))
        for one in _promises(locomotive, since):
            self._into(one.at, lambda period, one=one: period.promises.append(one))
        for at in measured.cracks(locomotive, since):
            self._into(at, lambda period: setattr(period, "cracks", period.cracks + 1))
        found = [event.pk for period in self.periods.values() for event in period.events]
        self.of_event = _things(found)
        places = {number for (_, kind), number in self.of_event.items() if kind == "position"}
        self.places = dict(Position.objects.filter(pk__in=places).values_list("pk", "name"))
        pieces = Component.objects.filter(
            pk__in={number for (_, kind), number in self.of_event.items() if kind == "piece"}
        )
        self.pieces = {pk: place or name for pk, place, name in pieces.values_list("pk", "place__name", "name")}
        holds = {event.data.get("hold") for period in self.periods.values() for event in period.events}
        self.holds = dict(HoldPoint.objects.filter(pk__in=holds - {None}).values_list("pk", "name"))

    def _into(self, at: datetime, put) -> None:
        for before, now, on in self.ends:
            if before <= at < now:
                put(self.periods[on])

    def between(self, now: date) -> list[Cause]:
        if now not in self.periods:
            return []
        period = self.periods[now]
        return [cause for cause in self._causes(period) if cause]

    def anything_done(self, now: date) -> bool:
        return any(event.action in FORWARD for event in self._standing(self.periods[now]))

    def _causes(self, period: Period) -> Iterator[Cause | None]:
        yield from promises(_of_jobs(period.promises))
        yield cracks(period.cracks)
        done: defaultdict[str, dict[int, str]] = defaultdict(dict)
        for event in self._standing(period):
            done[event.action][self.of_event.get((event.pk, "piece"), 0)] = self._name(event)
        for actions, (one, many, way, rank) in DONE.items():
            pieces = {piece: name for action in actions for piece, name in done[action].items()}
            yield counted(pieces.values(), one, many, way, rank)
        by_mistake = [self._name(event) for event in self._put_back_later(period)]
        yield counted(by_mistake, "was not refitted after all", "were not refitted after all", LATER, 5)
        faulty = [self._name(event) for event in period.events if event.data.get("result") == Result.DEFECT]
        yield counted(faulty, "was found faulty", "were found faulty", LATER, 4)
        yield from self._guesses(period)
        yield from {cause.words: cause for event in period.events if (cause := self._entered(event))}.values()

    def _standing(self, period: Period) -> Iterator[Event]:
        """What was done to pieces and not put back by the end of the period."""
        undone = {event.data["undone"] for event in period.events if event.action in PUT_BACK}
        for event in period.events:
            if event.action in DONE_TO_PIECES and not {event.pk, event.data.get(ACT)} & undone:
                yield event

    def _put_back_later(self, period: Period) -> Iterator[Event]:
        """Where a refit that an earlier forecast told of was put back as a mistake."""
        ours = {event.pk for event in period.events} | {event.data.get(ACT) for event in period.events}
        for event in period.events:
            if event.action in PUT_BACK and event.from_state == State.REFITTED and event.data["undone"] not in ours:
                yield event

    def _guesses(self, period: Period) -> Iterator[Cause | None]:
        """Of each subassembly from the first to the last."""
        of_sub: defaultdict[int, list[Event]] = defaultdict(list)
        for event in period.events:
            if event.action == "guess work left":
                of_sub[self.of_event.get((event.pk, "subassembly"), 0)].append(event)
        for sub, events in of_sub.items():
            was = events[0].data.get("was", {}).get("likely")
            now = float(events[-1].data["guess"]["likely"])
            yield guess(self.names.get(sub, "a subassembly"), float(was) if was else None, now)

    def _name(self, event: Event) -> str:
        place = self.places.get(self.of_event.get((event.pk, "position"), 0))
        return place or self.pieces.get(self.of_event.get((event.pk, "piece"), 0), "piece")

    def _entered(self, event: Event) -> Cause | None:
        data = event.data
        if event.action in HELD:
            past, way = HELD[event.action]
            name = self.holds.get(data.get("hold", 0), "")
            return Cause(words=f"the hold point “{name}” was {past}", way=way, rank=2)
        if event.action == "set working week":
            return Cause(words="the opening days or the hands were entered anew", rank=2)
        if event.action == "set unusual day":
            when = told(date.fromisoformat(data["date"]))
            opens = f"opens on {when}" if data.get("minutes") else f"is closed on {when}"
            return Cause(words=f"the works {opens}", way=EARLIER if data.get("minutes") else LATER, rank=3)
        if event.action == "plan machine work":
            return Cause(words=f"work on a machine was planned: {data.get('work', '')}", way=LATER, rank=3)
        if event.action == "promise anew":
            back = told(date.fromisoformat(data["promised_back"]))
            return Cause(words=f"{self._name(event)} is promised back for {back}", way=EITHER, rank=2)
        return None


def _moment(kept: Kept) -> datetime:
    """Up to which it knew what was done."""
    return kept.at or make_aware(datetime.combine(kept.on, time.min))


def _events(locomotive: Locomotive, since: date) -> Iterator[Event]:
    """What is of another locomotive moves no date of this one; what is of none is of the whole works."""
    moved_on = Q(action__in=[*DONE_TO_PIECES, *PUT_BACK]) & ~Q(from_state=F("to_state"))
    found_faulty = Q(action="sign examination", data__result=Result.DEFECT)
    wanted = Q(action__in=[*ENTERED, *HELD]) | moved_on | found_faulty
    found = Event.objects.filter(wanted, at__date__gte=since).subject_of("locomotive")
    return found.filter(Q(about=locomotive.pk) | Q(about=None)).order_by("pk").iterator()


def _promises(locomotive: Locomotive, since: date):
    ours = Q(step__renewal__position__locomotive=locomotive) | Q(repair__component__place__locomotive=locomotive)
    rows = Promise.objects.filter(ours, at__date__gte=since).order_by("id")
    return rows.select_related("step__firm", "step__renewal__position", "repair__firm", "repair__component__place")


def _of_jobs(rows: Sequence[Promise]) -> Iterator[Moved]:
    """Of each job from its first word to its last."""
    of_job: defaultdict[tuple, list[Promise]] = defaultdict(list)
    for row in rows:
        of_job[row.step_id, row.repair_id].append(row)
    for job in of_job.values():
        of, what = _job_of(job[0])
        yield Moved(of=of, what=what, old=job[0].old, new=job[-1].new)


def _job_of(row: Promise) -> tuple[str, str]:
    """Of whom, and what."""
    if row.step:
        return str(row.step.firm or row.step.who), row.step.renewal.position.words
    assert row.repair is not None  # the table holds one or the other
    place = row.repair.component.place
    return str(row.repair.firm or row.repair.who), place.words if place else row.repair.component.name


def _things(events: Sequence[int]) -> dict[tuple[int, str], int]:
    kinds = ("position", "piece", "subassembly")
    rows = EventSubject.objects.filter(event__in=events, kind__in=kinds)
    return {(event, kind): number for event, kind, number in rows.values_list("event", "kind", "number")}
