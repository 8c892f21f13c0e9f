"""A working party's day: who does what with whom, and what keeps everybody safe. Pure.

Nobody lifts, works hot, enters a confined space or tests pressure alone; a learner has somebody beside them who answers
for the work; whoever signs a look is authorised for it. Common practice, no source: who is in charge decides.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from core.roles import AT_WORK, BENCH, EXAMINERS, MANAGER, STORES

from .ranking import WHOSE, may_sign
from .rows import Actor
from .words import Need

IN_CHARGE = "in charge"
"""The skill of whoever may be in charge of a day, whatever their role."""
ON_A_MACHINE = "machine"
"""The need of work that a machine or a skill was planned for; the look of such a task names the skill."""
PAIR = 2
MANY = 6
"""So many pieces in one place are work for two."""
ANYBODY = frozenset({Need.STRIP, Need.CLEAN})
"""Work that every pair of hands is good for: the catalogue lets everybody at work do it."""
NEVER_ALONE = {
    "lifting": "lifts",
    "hot work": "works hot",
    "white metal": "works hot",
    "tyre heating": "works hot",
    "confined space": "enters a confined space",
    "pressure test": "tests pressure",
}
"""The subjects of cautions (`data/cautions.csv`) that take two, and what nobody does alone."""

BETWEEN = ", "
AT_A_DESK = frozenset({Need.DECIDE, Need.SIGN, Need.FIT})
"""Work that a helper adds nothing to."""


def nobody_alone(danger: str) -> str:
    """
    >>> nobody_alone("lifting, confined space")
    'nobody lifts or enters a confined space alone.'
    """
    does = dict.fromkeys(NEVER_ALONE[subject] for subject in danger.split(BETWEEN))
    return f"nobody {' or '.join(does)} alone."


TOOLS: dict[str, str] = {
    "refit": "fastenings, locking wire and split pins, torque wrench, oil",
    Need.STRIP: "spanners, drifts, tags and wire, a crate with a label, a phone for photos",
    Need.CLEAN: "scrapers, brushes, paraffin, trays, rags that are counted, gloves and goggles",
    Need.CRACK_CHECK: "the kit of the method and its written procedure, lamp, clean rags",
    Need.MEASURE: "the instruments on the sheet, within calibration, and clean rags",
    Need.EXAMINE: "good light, mirror, scraper, a phone for photos",
    Need.RECHECK: "good light, mirror, scraper, a phone for photos",
    Need.REPAIR: "what the repair says, and the fire watch where it is hot work",
    ON_A_MACHINE: "the drawing or the sizes to turn to, eye protection, the instruments to measure with",
    Need.FIND: "a phone to scan tags",
    Need.FETCH: "the list, straps, a phone to scan tags",
}
"""Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """Somebody who is in."""

    id: int
    name: str
    roles: frozenset[str]
    authorised: frozenset[str] = frozenset()
    skills: frozenset[str] = frozenset()
    learner: bool = False

    @property
    def answers_for_others(self) -> bool:
        """May have a learner beside them: no learner, and more than a helper."""
        return not self.learner and (IN_CHARGE in self.skills or bool(self.roles & (BENCH | EXAMINERS | STORES)))

    @property
    def may_be_in_charge(self) -> bool:
        return not self.learner and (IN_CHARGE in self.skills or bool(self.roles & (BENCH | MANAGER)))

    def can_lead(self, task: "Task") -> bool:
        """The work is theirs, and they may sign what it ends with."""
        if self.learner:
            return False
        if task.need == ON_A_MACHINE:
            return task.look in self.skills | self.authorised if task.look else bool(self.roles & BENCH)
        own = bool(self.roles & WHOSE.get(task.need, frozenset()))
        own |= task.need in ANYBODY and bool(self.roles & AT_WORK)
        actor = Actor(id=self.id, name=self.name, roles=self.roles, authorised=self.authorised)
        return own and may_sign(actor, task.look)


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One job. `where` sorts as one walks; `danger` lists subjects of NEVER_ALONE, or is blank; `chosen`: for this day,
    by somebody."""

    key: str
    words: str
    need: str
    look: str = ""
    many: int = 1
    hands: int = 1
    danger: str = ""
    chosen: bool = False
    where: tuple[Any, ...] = field(default=(), compare=False)

    @property
    def wanted(self) -> int:
        return max(self.hands, PAIR if self.danger or (self.many >= MANY and self.need not in AT_A_DESK) else 1)


def that_fit(jobs: Iterable[tuple[str, str, float]], machines: Mapping[str, tuple[int, float]]) -> list[str]:
    """Which of these jobs, (key, machine, minutes), have time on their machine on one day: so many at once, so many
    minutes. In the order given; what takes longer than the day begins on one that is free, and holds it.

    >>> that_fit([("tyres", "lathe", 2000), ("pins", "lathe", 60), ("wash", "bay", 60)], {"lathe": (1, 300)})
    ['tyres']
    >>> that_fit([("pins", "lathe", 200), ("bush", "lathe", 200), ("nut", "lathe", 100)], {"lathe": (1, 300)})
    ['pins', 'nut']
    """
    left = {name: [minutes] * units for name, (units, minutes) in machines.items() if minutes > 0}
    found = []
    for key, name, minutes in jobs:
        takes = min(minutes, machines[name][1]) if name in left else 0.0
        unit = max(range(len(left[name])), key=left[name].__getitem__) if name in left else 0
        if name in left and left[name][unit] >= takes:
            left[name][unit] -= takes
            found.append(key)
    return found


Dealt = dict[str, tuple[int, ...]]
"""By the key of a task, who does it. With nobody it is kept in reserve."""


def jobs_for(hands: int) -> int:
    """Half as many jobs again as hands, so that a missing piece stops nobody.

    >>> [jobs_for(hands) for hands in (0, 1, 2, 5, 8)]
    [0, 2, 3, 8, 12]
    """
    return hands + -(-hands // 2)


def deal(tasks: Sequence[Task], hands: Sequence[Hand]) -> Dealt:
    """Who does what. `tasks` in the order of the ranking; the answer in walking order, those in reserve last.

    What was chosen comes first. What only some can do comes before what every pair of hands is good for, so that nobody
    who can refit cleans while something can go on. Each in turn gets whoever of those who can is needed least
    elsewhere, and a helper where it takes two; learners help first. Who is left helps where there are fewest.
    """
    free, given, elsewhere = list(hands), {}, _needed(tasks, hands)
    tasks = sorted(tasks, key=lambda task: (not task.chosen, task.need in ANYBODY))
    for task in tasks:
        able = [hand for hand in free if hand.can_lead(task)]
        if not able:
            continue
        lead = min(able, key=lambda hand: elsewhere[hand.id])
        beside = (hand for hand in free if hand is not lead and (lead.answers_for_others or not hand.learner))
        helpers = sorted(beside, key=_helps_first(elsewhere))
        helpers = helpers[: task.wanted - 1]
        if task.danger and not helpers:
            continue
        given[task.key] = [lead, *helpers]
        free = [hand for hand in free if hand not in given[task.key]]
    by_key = {task.key: task for task in tasks}
    _seat(free, given, by_key)
    left = [task for task in tasks if task.key not in given]
    chosen = [task for task in left if task.chosen]  # kept whoever comes
    more = jobs_for(len(hands)) - len(given) - len(chosen)
    reserve = [*chosen, *_reserve([task for task in left if not task.chosen], hands, more)]
    walked = sorted(given, key=lambda key: by_key[key].where)
    return {key: tuple(hand.id for hand in given[key]) for key in walked} | {task.key: () for task in reserve}


def _reserve(tasks: Iterable[Task], hands: Sequence[Hand], number: int) -> list[Task]:
    """First one for each who could lead it, so that there is something for everybody; then the rest by rank."""
    left, first, later = list(hands), [], []
    for task in tasks:
        able = [hand for hand in hands if hand.can_lead(task)]
        without = [hand for hand in left if hand in able]
        if without:
            left.remove(without[0])
            first.append(task)
        elif able:
            later.append(task)
    return [*first, *later][: max(number, 0)]


def _needed(tasks: Iterable[Task], hands: Sequence[Hand]) -> dict[int, float]:
    """How much the work needs each hand: the fewer can lead a task, the more it needs each of those."""
    needed = dict.fromkeys((hand.id for hand in hands), 0.0)
    for task in tasks:
        able = [hand for hand in hands if hand.can_lead(task)]
        for hand in able:
            needed[hand.id] += 1 / len(able)
    return needed


def _helps_first(elsewhere: Mapping[int, float]) -> Callable[[Hand], tuple[bool, float]]:
    """Learners, then whoever is needed least elsewhere."""
    return lambda hand: (not hand.learner, elsewhere[hand.id])


def _seat(left: Iterable[Hand], given: dict[str, list[Hand]], by_key: Mapping[str, Task]) -> None:
    """Who is left helps where there are fewest, at a desk last; a learner only beside somebody who answers for them."""
    for hand in left:
        places = [
            (by_key[key].need in AT_A_DESK, len(beside), key)
            for key, beside in given.items()
            if not hand.learner or any(one.answers_for_others for one in beside)
        ]
        if places:
            given[min(places)[2]].append(hand)


def in_charge(hands: Sequence[Hand]) -> Hand | None:
    """Who is proposed: whoever has the skill, else an engineer, the works manager or a fitter, in this order."""
    able = [hand for hand in hands if hand.may_be_in_charge]
    order = ("responsible engineer", "works manager", "fitter")

    def rank(hand: Hand) -> int:
        return -1 if IN_CHARGE in hand.skills else next(n for n, role in enumerate(order) if role in hand.roles)

    return min(able, key=rank, default=None)


def who_on(hands: Sequence[Hand]) -> list[str]:
    """Those on a job, a learner with whoever answers for the work.

    >>> ann = Hand(id=1, name="Ann", roles=frozenset({"fitter"}))
    >>> who_on([ann, Hand(id=2, name="Bob", roles=frozenset({"volunteer"}), learner=True)])
    ['Ann', 'Bob (learning, with Ann)']
    """
    leader = next((hand.name for hand in hands if hand.answers_for_others), "")
    beside = f"learning, with {leader}" if leader else "learning"
    return [f"{hand.name} ({beside})" if hand.learner else hand.name for hand in hands]


# --- what stands against a sheet


def breaches(
    jobs: Iterable[tuple[Task, Collection[int]]], hands: Mapping[int, Hand], charge: int | None
) -> Iterator[str]:
    """A sentence for each thing that must be put right before the sheet is used: what to do, then why."""
    leader = hands.get(charge or 0)
    if hands and (leader is None or not leader.may_be_in_charge):
        yield "Name a person in charge: nobody who is in and may be is named."
    for task, on in jobs:
        there = [hands[id] for id in on if id in hands]
        if not there:
            if task.chosen and not any(hand.can_lead(task) for hand in hands.values()):
                yield f"Ask somebody who can do “{task.words}” to come: nobody who is in does it."
            continue
        if task.danger and len(there) < PAIR:
            yield f"Put a second person on “{task.words}”: {nobody_alone(task.danger)}"
        if not any(hand.can_lead(task) for hand in there):
            may = f"nobody on it is authorised for it ({task.look})" if task.look else "nobody on it does this by role"
            yield f"Put somebody else on “{task.words}”: {may}."
        for learner in (hand for hand in there if hand.learner):
            if not any(hand.answers_for_others for hand in there):
                yield f"Put somebody beside {learner.name} on “{task.words}”: {learner.name} is learning."
