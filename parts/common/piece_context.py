"""What a piece's page shows besides its buttons, read in a number of queries that does not grow with the rows."""

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Page, Paginator
from django.utils import timezone

from core.domain.catalogue import may
from core.models import Event

from ..domain.clocks import clock_trouble
from ..domain.event_text import is_signed, tell
from ..domain.exams_due import counts, inside_told, missing_exams, undone_in_words
from ..domain.needs import doubts
from ..domain.plain import day
from ..domain.rows import ActionContext
from ..domain.welds import is_welded, may_be_welded, wanted, weld_checks
from ..domain.words import Kind, Method, State
from ..models import Component, Position
from ..queries.missed import missed_in_words

EVENTS_A_PAGE = 20
PHOTOS_SHOWN = 12


@dataclass(frozen=True, kw_only=True)
class HistoryLine:
    """One line of the history."""

    at: object
    who: str
    checker: str
    sentence: str
    signed: bool


@dataclass(frozen=True, kw_only=True)
class ExaminationLine:
    """One examination, and whether it still counts."""

    pk: int
    title: str
    on: object
    by: str
    result: str
    found: str
    counting: bool
    why_not: str
    decision: str


@dataclass(frozen=True, kw_only=True)
class Inner:
    """One place inside a built-up piece, with what lies in it or for it."""

    place: Position
    pieces: list[Component]
    stands: str = ""  # what the looks at the whole piece leave of the look that it owes


def history(component: Component, number) -> Page:
    """One page of the events in words, newest first."""
    events = (
        Event.objects.about("piece", component.pk)
        .newest_first()
        .select_related("actor", "checker", "movement__went_to", "movement__came_from")
    )
    page: Any = Paginator(events, EVENTS_A_PAGE).get_page(number)  # with what the template shows besides
    page.clock_trouble = clock_trouble([event.at for event in page.object_list], timezone.now())
    page.object_list = [told(event) for event in page.object_list]
    return page


def told(event: Event) -> HistoryLine:
    sentence = tell(
        event.action,
        event.data,
        remark=event.remark,
        before=event.from_state,
        after=event.to_state,
        went=_went(getattr(event, "movement", None)),
    )
    return HistoryLine(
        at=event.at,
        who=str(event.actor),
        checker=str(event.checker) if event.checker_id else "",
        sentence=sentence,
        signed=is_signed(event.action, event.checker_id is not None),
    )


def _went(movement) -> str:
    if movement is None:
        return ""
    came = f"from {str(movement.came_from).removeprefix('On ')} " if movement.came_from else ""
    back = f", promised back {day(movement.promised_back)}" if movement.promised_back else ""
    return f"{came}to {movement.went_to}{back}" if movement.went_to else f"{came}".strip()


def looks(component: Component, case: ActionContext) -> list[ExaminationLine]:
    """Every examination of the piece, newest first, each with whether it still counts and if not, why."""
    by_event = {exam.event: exam for exam in case.this_piece.examinations}
    found = component.examinations.select_related("signed_by").order_by("-id")
    return [_look(exam, by_event.get(exam.event_id or 0), case) for exam in found]


def _look(exam, row, case):
    counting = row is not None and counts(row, case.piece)
    return ExaminationLine(
        pk=exam.pk,
        title=str(exam),
        on=exam.on,
        by=str(exam.signed_by) if exam.signed_by else "",
        result=exam.result,
        found=exam.found,
        counting=counting,
        why_not="" if counting else why_not(row, case),
        decision=row.decision if row else "",
    )


def why_not(row, case) -> str:
    if row is None:
        return "The piece is out of this overhaul."
    if not row.signed:
        return "It is not signed."
    if row.superseded:
        return "A later record supersedes it."
    return undone_in_words(case.this_piece, row.kind)


def inner_places(component: Component, case: ActionContext | None = None) -> list[Inner]:
    """The places inside a built-up piece, filled or not."""
    if component.place_id is None:
        return []
    places = list(Position.objects.filter(part_of=component.place_id, retired=False).in_words_order())
    pieces: dict[int | None, list[Component]] = {place.pk: [] for place in places}
    for piece in Component.objects.live().filter(place__in=pieces).with_codes():
        pieces[piece.place_id].append(piece)
    stands = inside_told(case.place, case.this_piece) if case and case.place else {}
    return [Inner(place=place, pieces=pieces[place.pk], stands=stands.get(place.words, "")) for place in places]


def mates(component: Component) -> list[Component]:
    """The other pieces of its matched set."""
    if not component.matched:
        return []
    same = Component.objects.live().filter(locomotive=component.locomotive_id, matched=component.matched)
    return list(same.exclude(pk=component.pk).with_codes().select_related("place"))


def lies(component: Component) -> tuple[str, str]:
    """Where it lies, in words a stranger can follow, and the address of that place."""
    location = component.location
    if component.state == State.WITHDRAWN and location is None:
        return component.destination, ""
    if component.fitted and component.fitted.part_of_id:
        return _inside(component.fitted)
    if component.fitted_id:
        assert component.place is not None  # the table has it: fitted in its own place
        return f"On {component.place.locomotive}, in its place", ""
    if location is None:
        return "Nobody has recorded where", ""
    if component.missed_on:
        missed = missed_in_words([component]).get(component.pk, f"since {day(component.missed_on)}")
        return f"Not there {missed}; last known: {location.words}", location.get_absolute_url()
    return location.words, location.get_absolute_url()


def _inside(place: Position) -> tuple[str, str]:
    outer = Component.objects.live().filter(place=place.part_of_id).with_codes().select_related(
        "location", "fitted__part_of", "place__locomotive"
    ).first()  # fmt: skip
    if outer is None:
        return f"In {place.part_of.words if place.part_of else ''}", ""
    words, _ = lies(outer)
    return f"In {outer.name}; that is: {words}", f"/t/{outer.code}" if outer.code else ""


def in_quarantine(component: Component) -> bool:
    """A cracked piece that lies in a quarantine place, as far as anybody knows."""
    lies_there = component.location is not None and not component.missed_on and component.location.keeps_apart
    return component.quarantined and lies_there


def badges(component: Component, case: ActionContext) -> list[str]:
    place, quarantined = case.place, component.quarantined and in_quarantine(component)
    words = {
        "cracked": component.quarantined and not quarantined,
        "quarantined": quarantined,
        "in doubt": bool(place and doubts(place, case.this_piece, case.today)),
        "on trial": component.on_trial,
        "safety-critical": bool(place and place.safety_critical),
        "pressure part": bool(place and place.pressure_part),
        "overdue": bool(component.promised_back and component.promised_back < case.today),
    }
    return [word for word, so in words.items() if so]


def called_for(case: ActionContext) -> list[tuple[str, str, bool]]:
    """What the place calls for, each with whether it is there: what an examiner looks for first."""
    if case.place is None or case.this_piece.state is State.WITHDRAWN:
        return []
    missing = {look.kind for look in missing_exams(case.place, case.this_piece)}
    return [(kind, words, kind not in missing) for kind, words in kinds_called_for(case)]


def welding(case: ActionContext, address: str, *, expected: bool = False) -> dict | None:
    """The crack checks of a weld repair, which of them are there, and where this person signs the next one."""
    piece = case.this_piece
    checks = weld_checks(piece, expected=expected or may_be_welded(piece))
    if not checks or piece.state is State.WITHDRAWN:
        return None
    signs = may(case.actor.roles, "examine") and any(w.startswith(Kind.CRACK_CHECK) for w in case.actor.authorised)
    following = wanted(checks, piece) if signs else None
    href = f"{address}/crack-check?{urlencode({'stage': following.stage})}" if following else ""
    return {"checks": checks, "welded": is_welded(piece), "next": following, "href": href}


def kinds_called_for(case: ActionContext) -> list[tuple[str, str]]:
    """Kinds of examination that its place calls for, each in words; a plain place calls for a visual one, and one that
    names no size for no measuring."""
    place = case.this_place
    crack_check = place.crack_check_method
    by = "" if crack_check == Method.ANY else f", {crack_check}"
    first = (Kind.CRACK_CHECK, f"crack check{by}") if crack_check else (Kind.VISUAL, "visual")
    apart = {first[0], Kind.CRACK_CHECK} | (set() if case.this_piece.dimensions else {Kind.DIMENSIONAL})
    calls: list[tuple[str, str]] = [first, *((kind, kind.value) for kind in place.calls_for if kind not in apart)]
    if any(inner.crack_check for inner in place.inside) and not (case.this_piece.broken_down or crack_check):
        calls.append((Kind.CRACK_CHECK, "crack check of what is inside it"))
    return calls
