"""Pieces that wait to be looked at, by method and by where they lie: an examiner's day. The number of queries is the
same for a page of one and a page of fifty."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from django.core.paginator import Paginator
from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet

from parts.domain import rows
from parts.domain.exams_due import MissingExam, finding, missing_exams, open_decisions
from parts.domain.needs import doubts
from parts.domain.plain import capital
from parts.domain.words import Kind, Method, Need
from parts.models import Component, Position
from parts.models.locations import BETWEEN
from parts.queries.loading import load_places

from ..models import Examination

A_PAGE = 36
EXCAVATION, IN_DOUBT = "weld excavation", "in doubt"
LOOKS = {Need.EXAMINE: Kind.VISUAL, Need.MEASURE: Kind.DIMENSIONAL, Need.RECHECK: IN_DOUBT, Need.DECIDE: "decision"}
METHODS = tuple(f"{Kind.CRACK_CHECK}: {method}" for method in Method)
SORTS = (*METHODS, EXCAVATION, *LOOKS.values())
ALL_CRACK_CHECKS = Kind.CRACK_CHECK.value
"""For a day when somebody comes for the cracks: every crack check, excavations, and what is in doubt."""


@dataclass(frozen=True)
class WaitingPiece:
    """What is wanted of one piece, and what was last found on it."""

    piece: Component
    wanted: list[str]
    last: str = ""


@dataclass
class Waiting:
    """One place, and the pieces in it that the look is for."""

    place: Position
    sort: str
    looks: list[WaitingPiece] = field(default_factory=list)

    @property
    def pieces(self) -> list[Component]:
        return [look.piece for look in self.looks]


class Worklist:
    """What waits today, anywhere or where somebody asked. What the calendar brought into doubt is read once."""

    def __init__(self, today: date, where: str = ""):
        self.today, self.where = today, where
        changed = Position.objects.changed_by(today)
        self.doubted = {place.pk for place in changed if place.stands_on(today)[1] == Need.RECHECK}

    def sorts(self) -> dict[str, int]:
        """How many places wait, by what they wait for: 'crack check: penetrant', 'visual', 'in doubt' …"""
        counted = dict.fromkeys(SORTS, 0)
        stored = _lying(_stored(*LOOKS, Need.CRACK_CHECK), self.where).exclude(pk__in=self.doubted)
        for need, method, number in stored.values_list("need", "crack_check").annotate(number=Count("id")).order_by():
            counted[sort_of(need, method)] += number
        counted[EXCAVATION] = _lying(to_dig_out(), self.where).count()
        counted[IN_DOUBT] += _lying(Position.objects.filter(pk__in=self.doubted), self.where).count()
        return {sort: number for sort, number in counted.items() if number}

    def wheres(self) -> list[str]:
        """Where those pieces lie, and what these stand in: the paths one can ask for."""
        lying = Component.objects.live().filter(place__in=self._of_sort("").values("pk"), location__isnull=False)
        paths = set()
        for path in lying.values_list("location__path", flat=True).order_by().distinct():
            names = path.split(BETWEEN)
            paths |= {BETWEEN.join(names[:deep]) for deep in range(1, len(names) + 1)}
        return sorted(paths)

    def page(self, sort: str, number):
        """One page of places that wait for this sort of look, or for any, each with its pieces."""
        page = Paginator(self.places(sort), A_PAGE).get_page(number)
        page.object_list = self.lines(page.object_list)
        return page

    def lines(self, places: Iterable[Position]) -> list[tuple["Waiting", WaitingPiece]]:
        """One for each piece."""
        return [(row, look) for row in self.with_looks(list(places)) for look in row.looks]

    def places(self, sort: str) -> QuerySet:
        found = _lying(self._of_sort(sort), self.where).select_related("subassembly", "locomotive")
        return found.order_by("locomotive", "subassembly", "name", "id")

    def with_looks(self, places: list[Position]) -> list[Waiting]:
        """Each place with its pieces, what is wanted of them and why."""
        found = {place.pk: Waiting(place, self._sort_of(place)) for place in places}
        plain = {row.id: row for row in load_places({"id__in": list(found)})} if found else {}
        for piece in Component.objects.live_in(found).with_codes().select_related("location"):
            row = plain.get(piece.place_id)
            one = next((one for one in row.pieces if one.id == piece.pk), None) if row else None
            if row and one and self._lies_there(piece):
                look = WaitingPiece(piece, wanted(row, one, self.today), last_finding(one))
                found[piece.place_id].looks.append(look)
        return list(found.values())

    def _sort_of(self, place: Position) -> str:
        return IN_DOUBT if place.pk in self.doubted else sort_of(place.need, place.crack_check)

    def _of_sort(self, sort: str) -> QuerySet:
        if sort == EXCAVATION:
            return to_dig_out()
        needs, method = _needs_of(sort)
        found = Q(pk__in=_stored(*needs).exclude(pk__in=self.doubted).values("pk"))
        if method:
            return Position.objects.filter(found).by_method(method)
        if Need.RECHECK in needs:
            found |= Q(pk__in=self.doubted)
        if sort in ("", ALL_CRACK_CHECKS):
            found |= Q(pk__in=to_dig_out().values("pk"))
        return Position.objects.filter(found)

    def _lies_there(self, piece: Component) -> bool:
        path = piece.location.path if piece.location else ""
        return not self.where or path == self.where or path.startswith(f"{self.where}{BETWEEN}")


def sort_of(need: str, method: str) -> str:
    if need == Need.REPAIR:
        return EXCAVATION
    return f"{Kind.CRACK_CHECK}: {method or Method.ANY}" if need == Need.CRACK_CHECK else LOOKS[Need(need)]


def _needs_of(sort: str) -> tuple[list[Need], str]:
    """The needs that a sort of look answers, and its method if it names one; no sort is any of them."""
    kind, _, method = sort.partition(": ")
    if sort == ALL_CRACK_CHECKS:
        return [Need.CRACK_CHECK, Need.RECHECK], ""
    if kind == Kind.CRACK_CHECK:
        return [Need.CRACK_CHECK], method
    return [need for need, word in LOOKS.items() if word == sort] or [*LOOKS, Need.CRACK_CHECK], ""


def _stored(*needs: Need) -> QuerySet:
    return Position.objects.waiting_for(needs)


def wanted(place: rows.Place, piece: rows.Piece, today: date) -> list[str]:
    """What has to be looked at on this piece, a sentence each; on a piece in doubt, why."""
    sentences = [look.sentence for look in missing_exams(place, piece) if not _goes_without_saying(look)]
    sentences += [f"To be decided: {words}." for words in open_decisions(piece)]
    sentences += doubts(place, piece, today)
    return list(dict.fromkeys(sentences))


def _goes_without_saying(look: MissingExam) -> bool:
    """That a look was never made is why it stands on the list; what is not decided is told by itself."""
    return look.code == "undecided" or (look.sentence.startswith("No ") and look.sentence.endswith(" is signed."))


def last_finding(piece: rows.Piece) -> str:
    found = [exam for exam in piece.examinations if exam.signed and exam.result != "sound"]
    if not found or not found[-1].decision:
        return ""  # what is not decided stands among what is wanted
    return f"{capital(finding(found[-1]))}. Decided: {found[-1].decision}."


def to_dig_out() -> QuerySet:
    """Places of pieces whose crack is to be repaired and where no excavation was looked at yet."""
    shown = Examination.objects.filter(
        component=OuterRef("pk"), kind=Kind.CRACK_CHECK, event__gt=OuterRef("bared_event"), superseded_by__isnull=True,
        decisions__decision="repair",
    )  # fmt: skip
    looked = Examination.objects.filter(
        component=OuterRef("pk"), crack_check__stage="excavation", event__gt=OuterRef("bared_event")
    )
    pieces = Component.objects.live().filter(Exists(shown)).exclude(Exists(looked))
    return Position.objects.waiting_for((Need.REPAIR,)).filter(pk__in=pieces.values("place"))


def _lying(places: QuerySet, where: str) -> QuerySet:
    """Those with a piece that lies there, or in something that stands there."""
    if not where:
        return places
    inside = Q(location__path=where) | Q(location__path__startswith=f"{where}{BETWEEN}")
    return places.filter(pk__in=Component.objects.live().filter(inside).values(key=F("place")))
