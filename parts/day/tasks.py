"""The jobs that a working party could do, in the one order, each with where it lies, its cautions and its danger."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from urllib.parse import parse_qs, urlsplit

from core.models import Person

from ..domain.cautions import before, subjects
from ..domain.day_sheet import BETWEEN as COMMA
from ..domain.day_sheet import NEVER_ALONE, Hand, Task
from ..domain.plain import by_number, capital
from ..domain.ranking import REFIT, WORK
from ..domain.rows import Actor, Place
from ..domain.words import Kind, Need
from ..models import Component, Locomotive, Position
from ..models.locations import BETWEEN
from ..morning.groups import GROUPED, groups
from ..queries.attendance import load_skills
from ..queries.loading import load_places
from ..queries.readiness import load_now
from ..readiness.jobs import Job, jobs
from ..readiness.worklist import WorkList

NOT_FOR_A_DAY = frozenset({Need.AWAIT, Need.SOURCE, Need.RELEASE, Need.FETCH})
"""No work for a working party."""
MOST = 60
"""So many things are looked at for a day."""
OF_A_HEAP = 60
"""So many pieces of a heap are asked for their cautions."""
CAUTIONS = 2
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
SAYS: dict[str, str] = {REFIT: "Refit", Need.MEASURE: "Measure", Need.RECHECK: "Look again at", Need.SIGN: "Accept"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTask:
    """A task with what its sheet says of it."""

    task: Task
    href: str
    where: str
    cautions: tuple[str, ...] = ()


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


def tasks_for(locomotive: Locomotive, today) -> list[DayTask]:
    """In the order of the ranking. Raises OrderLoop where the order contradicts itself."""
    now = load_now(locomotive, today)
    found, needs = now.readiness(), WORK - NOT_FOR_A_DAY
    nobody: list[Actor] = []
    whole = Actor(id=0, name="", roles=frozenset())
    heaps = groups(now, found, needs, nobody, whole, everything=True)
    work = WorkList(now, needs - GROUPED, found)
    blockers = work[0:MOST]
    single = list(zip(jobs(blockers, found, nobody), blockers, strict=True))
    rows: list[tuple[Job, int | None, str]] = [(job, None, _where(job)) for job in heaps]
    rows += [(job, blocker.place, blocker.where.replace(BETWEEN, " · ")) for job, blocker in single]
    rows = sorted(rows, key=lambda row: row[0].turn)[:MOST]
    places = _places(locomotive, rows)
    return [_told(job, where, places[job.need, job.href]) for job, _, where in rows]


def _where(job: Job) -> str:
    """Of a heap: that of what is stripped is the subassembly itself."""
    path = [job.words] if job.need == Need.STRIP else [*job.where.split(BETWEEN), job.words]
    return " · ".join(filter(None, path))


def _told(job: Job, where: str, places: Sequence[Place]) -> DayTask:
    word = ACTION.get(job.need, "")
    asked = [(place, piece) for place in places for piece in (place.pieces or (None,))]
    about = {subject for place, piece in asked for subject in subjects(word, place, piece)}
    if job.need in (Need.EXAMINE, Need.RECHECK) and any(
        {Kind.HYDRAULIC_TEST, Kind.PRESSURE_TEST} & set(place.calls_for) for place in places
    ):
        about.add("pressure test")
    texts = dict.fromkeys(text for place, piece in asked for text in before(word, place, piece))
    task = Task(
        key=f"{job.need} {job.href}",
        words=in_words(job),
        need=job.need,
        look=job.look,
        many=job.many,
        danger=COMMA.join(subject for subject in NEVER_ALONE if subject in about),
        where=in_order(where),
    )
    return DayTask(task=task, href=job.href, where=where, cautions=tuple(texts)[:CAUTIONS])


def in_words(job: Job) -> str:
    """'Clean 12 pieces: Crate 6', 'Refit: horn stay, LH'."""
    says = SAYS.get(job.need, capital(str(job.need)))
    return f"{says} {job.many} {'pieces' if job.many > 1 else 'piece'}: {job.words}" if job.grouped else (
        f"{says}: {job.words}"
    )  # fmt: skip


def in_order(where: str) -> tuple[tuple[int, str], ...]:
    """Crate 2 before crate 14; what lies nowhere comes last.

    >>> in_order("Rack A · Crate 2") < in_order("Rack A · Crate 14") < in_order("")
    True
    """
    return tuple(by_number(where)) or ((10**9, ""),)


def _places(locomotive: Locomotive, rows: list[tuple[Job, int | None, str]]) -> dict[tuple[str, str], list[Place]]:
    """The places that each job is about, or some of them, in three queries."""
    numbers: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
    lying: defaultdict[tuple[str, str], list[tuple[str, str]]] = defaultdict(list)
    strips: dict[int, tuple[str, str]] = {}
    for job, place, _ in rows:
        asked = {name: values[0] for name, values in parse_qs(urlsplit(job.href).query).items()}
        if place:
            numbers[job.need, job.href].append(place)
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
    for place, need, path in pieces.values_list("place", "place__need", "location__path"):
        for key in lying[need, path]:
            numbers[key].append(place)
    some = {key: list(dict.fromkeys(found))[:OF_A_HEAP] for key, found in numbers.items()}
    loaded = {place.id: place for place in load_places({"id__in": {pk for found in some.values() for pk in found}})}
    return defaultdict(list, {key: [loaded[pk] for pk in found if pk in loaded] for key, found in some.items()})
