"""Work that is done by the crate or the bench: one row for all that lies in one place and needs the same."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from urllib.parse import urlencode

from django.db.models import Count, Min

from ..domain.plain import capital
from ..domain.ranking import LOOK_AT, LOOKS, in_words, look_of_method, may_sign, turn, who_acts
from ..domain.readiness import Readiness
from ..domain.rows import Actor
from ..domain.sequence import ON, WHOLE
from ..domain.words import IN_HAND, Need, State
from ..models import Component
from ..models.locations import BETWEEN
from ..queries.readiness import Now
from ..readiness.jobs import Job, first_in_words

BY_PLACE = LOOKS | {Need.CLEAN}
GROUPED = BY_PLACE | {Need.STRIP}


@dataclass
class WorkGroup:
    """What lies in one place and needs the same, with all that it holds up together."""

    many: int = 0
    behind: int = 0
    most: int = 0  # what the most urgent of them holds up
    since: date | None = None  # the first of them waits

    def add(self, many: int, behind: int, since: date | None) -> None:
        self.take_in(WorkGroup(many, behind, behind.bit_count(), since))

    def take_in(self, other: "WorkGroup") -> None:
        self.many, self.behind = self.many + other.many, self.behind | other.behind
        self.most = max(self.most, other.most)
        self.since = min(filter(None, (self.since, other.since)), default=None)


def groups(
    now: Now,
    found: Readiness,
    needs: Iterable[str],
    people: list[Actor],
    me: Actor,
    *,
    everything: bool,
    without: Collection[tuple[int, str]] = (),
) -> list[Job]:
    """Without the looks that this person is not authorised for, unless everything is asked for; and `without` the work
    of these pairs of a subassembly and a need."""
    wanted, made = frozenset(needs), []
    for (need, look, path), heap in _by_place(now, found, wanted & BY_PLACE, without).items():
        if everything or may_sign(me, look):
            above, _, name = path.rpartition(BETWEEN)
            where = name or "Nobody has recorded where"
            made.append(_job(found, heap, people, me, need, where, _href(need, look, path), look=look, where=above))
    for sub, heap in _to_strip(now, found).items() if Need.STRIP in wanted else ():
        if (sub, Need.STRIP) in without:
            continue
        made.append(
            _job(found, heap, people, me, Need.STRIP, found.order.by_id[sub].name, f"/strip/?subassembly={sub}")
        )
    return made


def _by_place(
    now: Now, found: Readiness, needs, without: Collection[tuple[int, str]]
) -> dict[tuple[str, str, str], WorkGroup]:
    """By need, by the authorisation that it takes, and by where it lies."""
    heaps: defaultdict[tuple[str, str, str], WorkGroup] = defaultdict(WorkGroup)
    incomplete = found.incomplete()
    for need, method, sub, first, state, path, many, since in _lying(now, needs) if needs else ():
        if (need == Need.CLEAN) == (state == State.STRIPPED) and (sub, need) not in without:
            look = look_of_method(method) if need == Need.CRACK_CHECK else LOOK_AT.get(need, "")
            behind = found.order.behind[ON if first else WHOLE, sub] & incomplete
            heaps[need, look, path or ""].add(many, behind, since)
    return _in_the_outermost(heaps)


def _in_the_outermost(heaps: dict[tuple[str, str, str], WorkGroup]) -> dict[tuple[str, str, str], WorkGroup]:
    """What lies in a crate goes with what lies beside that crate, as in the list that the row leads to."""
    found: defaultdict[tuple[str, str, str], WorkGroup] = defaultdict(WorkGroup)
    for (need, look, path), heap in heaps.items():
        names = path.split(BETWEEN)
        around = (BETWEEN.join(names[:deep]) for deep in range(1, len(names) + 1))
        outermost = next(place for place in around if (need, look, place) in heaps)
        found[need, look, outermost].take_in(heap)
    return found


def _lying(now: Now, needs):
    found = Component.objects.filter(
        place__locomotive=now.locomotive, place__retired=False, place__standing="blocked", place__need__in=needs,
        state__in=IN_HAND,
    )  # fmt: skip
    names = (
        "place__need",
        "place__crack_check",
        "place__subassembly",
        "place__needed_first",
        "state",
        "location__path",
    )
    return found.values_list(*names).annotate(many=Count("pk"), first=Min("since")).order_by()


def _to_strip(now: Now, found: Readiness) -> dict[int, WorkGroup]:
    heaps: defaultdict[int, WorkGroup] = defaultdict(WorkGroup)
    incomplete = found.incomplete()
    for sub, places in now.stored.items():
        for _, _, need, first, number in places.counts:
            if need == Need.STRIP:
                heaps[sub].add(number, found.order.behind[ON if first else WHOLE, sub] & incomplete, None)
    return heaps


def _job(found, heap: WorkGroup, people, me, need, words, href, *, look="", where="") -> Job:
    method = look.partition(": ")[2]
    return Job(
        words=capital(words), href=href, need=need, turn=(*turn(need, heap.most), words, ()), holds_up=heap.most,
        held=first_in_words(found.order.names(heap.behind)), where=where, many=heap.many, grouped=True, look=look,
        says=f"by {method}" if method and method != "any" else "", since=heap.since,
        days=(found.as_of - heap.since).days if heap.since else None,
        who=in_words(who_acts(need, people, look=look), me.name),
    )  # fmt: skip


def _href(need: str, look: str, path: str) -> str:
    if need == Need.CLEAN:
        where = {"where": path} if path else {"lost": "1"}
        return f"/pieces/bulk/?{urlencode({'need': Need.CLEAN.value, 'state': State.STRIPPED.value, **where})}"
    return f"/examinations/?{urlencode({'for': look, 'at': path})}"
