"""Finding things by any words that stand on them or about them, however they are spelt."""

from collections import Counter, namedtuple
from dataclasses import dataclass, field
from itertools import islice, product

from django.db.models import Exists, OuterRef, Q

from core.web.found import FoundRow
from core.web.rooms import found_kinds

from ..domain.folding import asked
from ..domain.near_codes import near_codes
from ..domain.near_words import nearest
from ..models import Component, Findable, Tag
from .found_rows import rows_of

TRIES = 9
"""Combinations of near words that are looked up."""


Best = namedtuple("Best", "kind thing many")


@dataclass(frozen=True, kw_only=True)
class FoundGroup:
    """The best few of one kind, and how many there are."""

    kind: str
    rows: list[FoundRow]
    many: int

    @property
    def heading(self) -> str:
        return found_kinds()[self.kind].heading

    @property
    def more(self) -> bool:
        return self.many > len(self.rows)


@dataclass(frozen=True, kw_only=True)
class Answer:
    groups: list[FoundGroup] = field(default_factory=list)
    words: list[str] = field(default_factory=list)  # what was looked for in the end
    near: str = ""  # the same, where nothing bears the words as they were typed

    def __bool__(self) -> bool:
        return bool(self.groups)

    def __len__(self) -> int:
        return sum(group.many for group in self.groups)


def find(text: str, today, *, most: int) -> Answer:
    """The best of each kind, the kind with the best answer first. Where nothing bears all the words, the nearest."""
    if not (words := asked(text)):
        return Answer()
    if found := _best(words, most):
        return Answer(groups=_groups(found, today), words=words)
    if codes := Tag.objects.tied_among(near_codes(text)):
        near = ", ".join(tag.code for tag in codes[:3])
        return Answer(groups=_groups(_tagged(codes), today), near=near)
    for near in mended(words):
        if found := _best(near, most):
            return Answer(groups=_groups(found, today), words=near, near=" ".join(near))
    return Answer(words=words)


class AllOfKind:
    """Everything of one kind that bears the words, as a sequence that a paginator can cut."""

    def __init__(self, kind: str, text: str, today):
        self.kind, self.today = kind, today
        words = understood(text, kind)
        self.things = unfilled().of_kind(kind).bearing(words).best_first(words) if words else Findable.objects.none()

    def __len__(self) -> int:
        return self.things.count()

    def __getitem__(self, cut: slice) -> list[FoundRow]:
        return rows_of(self.kind, list(self.things.values_list("thing", flat=True)[cut]), self.today)


def understood(text: str, kind: str = "piece") -> list[str]:
    """The words of a question, or the nearest ones that something bears: what a list of one kind is looked for by."""
    words = asked(text)
    things = Findable.objects.of_kind(kind)
    if not words or things.bearing(words).exists():
        return words
    return next((near for near in mended(words) if things.bearing(near).exists()), words)


def unfilled():
    """All that can be found but places with a piece in them: that piece is found by the words of its place."""
    filled = Component.objects.live().filter(place=OuterRef("thing"))
    return Findable.objects.filter(~Q(kind="place") | ~Exists(filled))


def mended(words: list[str]):
    """The words with those that nothing bears replaced by near ones, or left out where none is; likeliest first."""
    known = None
    choices = []
    for word in words:
        if Findable.objects.bearing([word]).exists():
            choices.append([word])
            continue
        known = known if known is not None else _vocabulary()
        if near := nearest(word, known):
            choices.append(near)
    tries = (list(choice) for choice in islice(product(*choices), TRIES)) if choices else ()
    return [near for near in tries if near != words]


def _vocabulary() -> list[str]:
    """Every word of a name. Names repeat a thousand times in a register, so these are few."""
    return sorted({word for name in Findable.objects.names() for word in name.split() if word.isalpha()})


def _best(words: list[str], most: int) -> list:
    return list(unfilled().bearing(words).best_of_each_kind(words, most))


def _tagged(codes: list[Tag]) -> list:
    things = [
        (kind, pk)
        for tag in codes
        for kind, pk in (("piece", tag.component_id), ("location", tag.location_id), ("pattern", tag.pattern_id))
        if pk
    ]
    many = Counter(kind for kind, _ in dict.fromkeys(things))
    return [Best(kind, thing, many[kind]) for kind, thing in dict.fromkeys(things)]


def _groups(found: list, today) -> list[FoundGroup]:
    """Kinds in the order in which their best answers come."""
    kinds = dict.fromkeys(row.kind for row in found)
    groups = []
    for kind in kinds:
        of_kind = [row for row in found if row.kind == kind]
        rows = rows_of(kind, [row.thing for row in of_kind], today)
        groups.append(FoundGroup(kind=kind, rows=rows, many=of_kind[0].many))
    return groups
