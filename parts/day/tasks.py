"""The jobs that a working party could do, in the one order, each with where it lies, its cautions and its danger."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from operator import attrgetter
from urllib.parse import parse_qs, urlencode, urlsplit

from django.db.models import Q
from django.urls import reverse

from core.models import Person

from ..domain.cautions import before, subjects
from ..domain.day_sheet import BETWEEN as COMMA
from ..domain.day_sheet import NEVER_ALONE, Hand, Task
from ..domain.plain import by_number, capital, several
from ..domain.ranking import REFIT, WORK, look_of
from ..domain.readiness import Blocker, Readiness
from ..domain.rows import Actor, Place
from ..domain.words import Kind, Method, Need
from ..models import Component, Locomotive, Position
from ..models.locations import BETWEEN
from ..morning.groups import GROUPED, groups
from ..queries.attendance import load_skills
from ..queries.loading import load_places
from ..queries.readiness import Now, load_now
from ..readiness.jobs import Job, jobs
from ..readiness.worklist import WorkList

Chosen = frozenset[tuple[int, str]]
"""Pairs of a subassembly's number and a need, whose work somebody chose for the day."""
NOT_FOR_A_DAY = frozenset({Need.AWAIT, Need.SOURCE, Need.RELEASE, Need.FETCH})
"""No work for a working party."""
MOST = 60
"""So many heaps, things that can go on, and other things are looked at for a day."""
OF_A_HEAP = 60
"""So many pieces of a heap are asked for their cautions."""
ACTION: dict[str, str] = {
    REFIT: "refit",
    Need.STRIP: "strip",
    Need.CLEAN: "clean",
    Need.REPAIR: "finish repair",
    Need.CRACK_CHECK: Kind.CRACK_CHECK,
    Need.EXAMINE: Kind.VISUAL,
    Need.RECHECK: Kind.VISUAL,
    Need.MEASURE: Kind.DIMENSIONAL,
}
"""What is done about a need, as the table of cautions calls it."""
BY_SUBASSEMBLY = frozenset({REFIT, Need.SIGN})
SAYS: dict[str, str] = {REFIT: "Refit", Need.MEASURE: "Measure", Need.RECHECK: "Look again at", Need.SIGN: "Accept"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTask:
    """A task with what its sheet says of it."""

    task: Task
    href: str
    where: str
    cautions: tuple[str, ...] = ()
    places: tuple[int, ...] = ()
    chosen_of: int | None = None
    machine_work: int | None = None
    job: Job | None = None

    def without(self, places: set[int]) -> "DayTask | None":
        """It, of the other places alone; None where nothing is left."""
        left = tuple(pk for pk in self.places if pk not in places)
        if self.job is None or len(left) == len(self.places):
            return self
        if not left:
            return None
        job = replace(self.job, many=max(self.job.many - len(self.places) + len(left), 1))
        return replace(self, places=left, task=replace(self.task, words=in_words(job), many=job.many))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A job before its places are loaded: some of them, if they are known, and where they lie."""

    job: Job
    where: str
    places: tuple[int, ...] = ()
    chosen_of: int | None = None


def hands_of(people: Iterable[Person], day) -> list[Hand]:
    """Those of these people who sign in, as the rules see them."""
    wanted = {person.pk: person for person in people}
    learners = set(Person.objects.filter(pk__in=wanted, attendance__learner=True).values_list("pk", flat=True))
    skills = load_skills(day)
    return [
        Hand(
            id=actor.id,
            name=actor.name,
            roles=actor.roles,
            authorised=actor.authorised,
            skills=skills.get(actor.id, frozenset()),
            learner=actor.id in learners,
        )
        for actor in Person.objects.actors(day)
        if actor.id in wanted
    ]


def tasks_for(locomotive: Locomotive, today, chosen: Chosen = frozenset()) -> list[DayTask]:
    """In the order of the ranking, what was chosen first. Raises OrderLoop where the order contradicts itself."""
    now = load_now(locomotive, today)
    found, needs = now.readiness(), WORK - NOT_FOR_A_DAY
    nobody: list[Actor] = []
    whole = Actor(id=0, name="", roles=frozenset())
    heaps = groups(now, found, needs, nobody, whole, everything=True, without=chosen)
    rows = [_Row(job=job, where=_where(job)) for job in sorted(heaps, key=attrgetter("turn"))[:MOST]]
    for some in ({REFIT}, needs - GROUPED - {REFIT}):
        blockers = [one for one in WorkList(now, some, found)[0:MOST] if (one.subassembly, one.need) not in chosen]
        rows += _together(found, blockers, jobs(blockers, found, nobody))
    rows.sort(key=lambda row: row.job.turn)
    rows = [*_chosen(now, found, chosen), *rows]
    places = _places(locomotive, rows)
    return [_told(row, places[row.job.need, row.job.href]) for row in rows]


def _together(found: Readiness, blockers: Sequence[Blocker], told: Sequence[Job]) -> Iterator[_Row]:
    """What can go on, and what waits for a signature, is one job for each subassembly; all else is one for each."""

    def key(pair: tuple[Blocker, Job]) -> tuple[str, int]:
        one = pair[0]
        apart = one.place is None or one.stopped or one.need not in BY_SUBASSEMBLY
        return ("", id(one)) if apart else (one.need, one.subassembly)

    pairs = list(zip(blockers, told, strict=True))
    for (need, sub), some in groupby(sorted(pairs, key=key), key=key):
        pairs_of = list(some)
        places = tuple(one.place for one, _ in pairs_of if one.place)
        where = "; ".join(dict.fromkeys(one.where.replace(BETWEEN, " · ") for one, _ in pairs_of if one.where))
        job = pairs_of[0][1]
        if need and len(pairs_of) > 1:
            job = replace(
                job, words=found.order.by_id[sub].name, href=_page(found, sub, need), many=len(pairs_of), grouped=True
            )
        yield _Row(job=job, where=where, places=places)


def _page(found: Readiness, sub: int, need: str, look: str = "") -> str:
    """Where this work of a subassembly is done."""
    args = [found.locomotive, found.order.by_id[sub].code]
    if need == REFIT:
        return reverse("put_together", args=args)
    return f"{reverse('subassembly', args=args)}?{urlencode({'need': need} | ({'for': look} if look else {}))}"


def _chosen(now: Now, found: Readiness, chosen: Chosen) -> Iterator[_Row]:
    """One job for each heap that was chosen; looks for cracks apart by method, since each takes its own hand."""
    subs, needs = {sub for sub, _ in chosen}, {need for _, need in chosen}
    asked = Q(need__in=needs, standing="blocked") | (Q(standing="ready") if REFIT in needs else Q(pk=None))
    wanted = Position.objects.filter(asked, subassembly__in=subs, locomotive=now.locomotive, retired=False)
    heaps: defaultdict[tuple[int, str, str], list[Place]] = defaultdict(list)
    stands = {place.pk: place.need or REFIT for place in wanted} if chosen else {}
    for place in load_places({"id__in": list(stands)}) if stands else ():
        need = stands[place.id]
        if (place.subassembly, need) in chosen:
            heaps[place.subassembly, need, look_of(need, place)].append(place)
    for (sub, need, look), places in heaps.items():
        where = "; ".join(dict.fromkeys(piece.where.replace(BETWEEN, " · ") for p in places for piece in p.pieces))
        job = Job(
            words=found.order.by_id[sub].name, href=_page(found, sub, need, look), need=need, turn=(), holds_up=0,
            held="", many=len(places), grouped=True, look=look,
        )  # fmt: skip
        yield _Row(job=job, where=where, places=tuple(place.id for place in places), chosen_of=sub)


def _where(job: Job) -> str:
    """Of a heap: that of what is stripped is the subassembly itself."""
    path = [job.words] if job.need == Need.STRIP else [*job.where.split(BETWEEN), job.words]
    return " · ".join(filter(None, path))


def _told(row: _Row, places: Sequence[Place]) -> DayTask:
    job = row.job
    word = ACTION.get(job.need, "")
    asked = [(place, piece) for place in places for piece in (place.pieces or (None,))]
    about = {subject for place, piece in asked for subject in subjects(word, place, piece)}
    if job.need in (Need.EXAMINE, Need.RECHECK) and any(
        {Kind.HYDRAULIC_TEST, Kind.PRESSURE_TEST} & set(place.calls_for) for place in places
    ):
        about.add("pressure test")
    task = Task(
        key=f"{job.need} {job.href}",
        words=in_words(job),
        need=job.need,
        look=job.look,
        many=job.many,
        danger=COMMA.join(subject for subject in NEVER_ALONE if subject in about),
        chosen=row.chosen_of is not None,
        where=in_order(row.where),
    )
    return DayTask(
        task=task,
        href=job.href,
        where=row.where,
        cautions=tuple(dict.fromkeys(text for place, piece in asked for text in before(word, place, piece))),
        places=tuple(place.id for place in places),
        chosen_of=row.chosen_of,
        job=job,
    )


def in_words(job: Job) -> str:
    """'Clean 12 pieces: Crate 6', 'Crack-check 2 pieces by penetrant: Crate 8', 'Refit: horn stay, LH'."""
    says = SAYS.get(job.need, capital(str(job.need)))
    method = job.look.partition(": ")[2]
    by = f" by {method}" if method and method != Method.ANY else ""
    return f"{says} {several(job.many, 'piece')}{by}: {job.words}" if job.grouped else f"{says}{by}: {job.words}"


def in_order(where: str) -> tuple[tuple[int, str], ...]:
    """Crate 2 before crate 14; what lies nowhere comes last.

    >>> in_order("Rack A · Crate 2") < in_order("Rack A · Crate 14") < in_order("")
    True
    """
    return tuple(by_number(where)) or ((10**9, ""),)


def _places(locomotive: Locomotive, rows: list[_Row]) -> dict[tuple[str, str], list[Place]]:
    """The places that each job is about, or some of them, in three queries."""
    numbers: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
    lying: defaultdict[tuple[str, str], list[tuple[str, str]]] = defaultdict(list)
    strips: dict[int, tuple[str, str]] = {}
    for row in rows:
        job = row.job
        asked = {name: values[0] for name, values in parse_qs(urlsplit(job.href).query).items()}
        if row.places:
            numbers[job.need, job.href] += row.places
        elif job.need == Need.STRIP:
            strips[int(asked["subassembly"])] = job.need, job.href
        elif job.grouped:
            lying[job.need, asked.get("where", asked.get("at", ""))].append((job.need, job.href))
    blocked = {"locomotive": locomotive, "retired": False, "standing": "blocked"}
    for pk, sub in Position.objects.filter(**blocked, need=Need.STRIP, subassembly__in=strips).values_list(
        "pk", "subassembly"
    ):
        numbers[strips[sub]].append(pk)
    of_piece = {f"place__{name}": value for name, value in blocked.items()}
    pieces = Component.objects.live().filter(
        **of_piece, place__need__in={need for need, _ in lying}, location__path__in={path for _, path in lying}
    )
    chosen = {(row.job.need, pk) for row in rows if row.chosen_of for pk in row.places}
    for place, need, path in pieces.values_list("place", "place__need", "location__path"):
        for key in lying[need, path] if (need, place) not in chosen else ():
            numbers[key].append(place)
    some = {key: list(dict.fromkeys(found))[:OF_A_HEAP] for key, found in numbers.items()}
    loaded = {place.id: place for place in load_places({"id__in": {pk for found in some.values() for pk in found}})}
    looks = {(row.job.need, row.job.href): row.job.look for row in rows if row.job.grouped}
    return defaultdict(
        list,
        {
            (need, href): [
                loaded[pk]
                for pk in found
                if pk in loaded and ((need, href) not in looks or look_of(need, loaded[pk]) == looks[need, href])
            ]
            for (need, href), found in some.items()
        },
    )
