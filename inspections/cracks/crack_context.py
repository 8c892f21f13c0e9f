"""What an examiner needs at hand before looking for cracks: the right to sign, the way proposed, what stood last time,
the photos to mark on, and earlier findings that this check answers. A number of queries that does not grow."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from core.domain.catalogue import may
from core.domain.refusals import Refusal
from parts.domain.exams_due import counts, unanswered
from parts.domain.plain import day
from parts.domain.rows import ActionContext
from parts.domain.words import Kind, Method, State
from parts.models import Component, Photo

from ..domain.crack_methods import proposes
from ..models import CrackCheck, Examination, Indication

METHODS = tuple(method.value for method in Method if method is not Method.ANY)
SMALL_PX = 320
MOST_PHOTOS = 24


@dataclass(frozen=True)
class Right:
    """One authorisation for a method, and whether it is good today."""

    method: str
    level: str
    until: date | None
    good: bool

    @property
    def words(self) -> str:
        """'level 2, good until 21 Sep 2027'"""
        ending = f"good until {day(self.until)}" if self.until else "no end date"
        return ", ".join(filter(None, (self.level, ending)))


def rights_of(person, today: date) -> list[Right]:
    rows = person.authorisations.filter(kind=Kind.CRACK_CHECK).order_by("method")
    found = {row.method: Right(row.method, row.level, row.until, not (row.until and row.until < today)) for row in rows}
    return [found[method] for method in METHODS if method in found]


def against(case: ActionContext, rights: list[Right]) -> Refusal | None:
    """Why no crack check can be signed here. What is only stripped may be dug out and looked at before welding."""
    if not may(case.actor.roles, "examine"):
        return Refusal("role", "Your roles do not allow “examine”.", "Ask somebody whose role does.")
    if not any(right.good for right in rights):
        ended = "; ".join(f"{right.method} was good until {day(right.until)}" for right in rights if right.until)
        return Refusal(
            "not-authorised",
            f"You are not authorised to sign a crack check{f': {ended}' if ended else ''}.",
            "Ask an examiner who is.",
        )
    if case.this_piece.state in (State.IN_PLACE, State.WITHDRAWN):
        cure = "Strip and clean it first." if case.this_piece.state is State.IN_PLACE else "Bring it back first."
        return Refusal("state", f"It is {case.this_piece.state}, so it cannot be examined.", cure)
    return None


def offered(rights: list[Right], called_for: str) -> list[tuple[str, str]]:
    """The methods that may be signed, what the place calls for first, each with its level and until when it is good."""
    good = sorted((right for right in rights if right.good), key=lambda right: right.method != called_for)
    return [(right.method, f"{right.method.capitalize()}{_called(right, called_for)}: {right.words}") for right in good]


def _called(right: Right, called_for: str) -> str:
    return " (called for)" if right.method == called_for else ""


def method_called_for(case: ActionContext) -> str:
    """The one method that the place names, or ""."""
    method = case.place.crack_check if case.place else ""
    return "" if method == Method.ANY else method


def is_hidden(piece: Component, case: ActionContext) -> bool:
    """Part of it cannot be seen: it is fitted inside another piece, or holds pieces that are still in it."""
    inside = bool(piece.fitted and piece.fitted.part_of_id)
    return inside or bool(case.place and case.place.inner and not piece.broken_down)


def proposals(piece: Component, case: ActionContext) -> list[str]:
    """What Cotter proposes for this piece, and what speaks against the method that its place names."""
    material, hidden = piece.place.material if piece.place else "", is_hidden(piece, case)
    named = method_called_for(case)
    proposals = proposes(named, material, hidden)
    return [proposal.sentence for proposal in proposals]


def doubts(piece: Component, case: ActionContext) -> dict[str, list[str]]:
    """By method, what speaks against it on this piece: shown where it is chosen."""
    material, hidden = piece.place.material if piece.place else "", is_hidden(piece, case)
    return {method: [one.sentence for one in proposes(method, material, hidden)] for method in METHODS}


def likely_method(piece: Component, case: ActionContext, rights: list[Right]) -> str:
    """What is chosen beforehand: the method called for, else the one proposed, if this person may sign it."""
    good = [right.method for right in rights if right.good]
    material = piece.place.material if piece.place else ""
    codes = [method_called_for(case)]
    codes += [proposal.code for proposal in proposes("", material, is_hidden(piece, case))]
    return next((code for code in codes if code in good), good[0] if len(good) == 1 else "")


def last_of(person, method: str) -> CrackCheck | None:
    """How this person did the last check by this method."""
    found = CrackCheck.objects.filter(examination__signed_by=person, examination__method=method)
    return found.select_related("examination").order_by("-examination_id").first() if method else None


def as_last_time(check: CrackCheck | None, names) -> dict:
    values = {name: getattr(check, name) for name in names} if check else {}
    return {name: plain(value) for name, value in values.items() if value not in (None, "")}


def plain(value):
    """A measured figure as one writes it: 1200, not 1200.0 nor 1.2E+3."""
    return f"{value.normalize():f}" if isinstance(value, Decimal) else value


@dataclass(frozen=True)
class ToAnswer:
    """An earlier finding that the engineer wants looked at again: this check answers it, and supersedes nothing."""

    pk: int
    words: str


def to_answer(piece: Component, case: ActionContext) -> list[ToAnswer]:
    events = {
        x.event: x for x in unanswered(case.this_piece) if x.kind == Kind.CRACK_CHECK and x.decision == "re-examine"
    }
    sound = [x.event for x in case.this_piece.examinations if counts(x, case.this_piece) and x.result == "sound"]
    open_ones = {event: x for event, x in events.items() if not any(later > x.decided_event for later in sound)}
    if not open_ones:
        return []
    rows = piece.examinations.filter(event__in=open_ones).order_by("id")
    return [ToAnswer(row.pk, f"{row} of {day(row.on)}: {row.found.rstrip('. ')}") for row in rows]


# --- photos and the marks on them


def photos_of(piece: Component) -> list[Photo]:
    return list(piece.photos.all()[:MOST_PHOTOS])


def small_size(photo: Photo) -> tuple[int, int]:
    """In pixels, as the small picture is shown where there are no scripts: a tap is told in these."""
    scale = min(1.0, SMALL_PX / max(photo.width, photo.height))
    return max(1, int(photo.width * scale)), max(1, int(photo.height * scale))


@dataclass(frozen=True)
class Dot:
    """A mark as it is drawn over the photo: a ring where it was tapped, and its number beside it. Whole pixels."""

    number: int
    x: str
    y: str
    tag_x: str
    tag_y: str
    text_y: str


@dataclass(frozen=True)
class Marked:
    """A photo with the marks on it."""

    photo: Photo
    dots: list[Dot] = field(default_factory=list)
    unit: float = 1

    @property
    def words(self) -> str:
        numbers = ", ".join(str(dot.number) for dot in self.dots)
        shows = self.photo.caption or "Photo of the piece"
        return f"{shows}, with the mark{'s' if len(self.dots) > 1 else ''} {numbers}" if numbers else shows

    @property
    def sizes(self) -> dict[str, str]:
        """Of ring, disc and figures, in the photo's own pixels."""
        return {"ring": f"{self.unit * 1.6:.0f}", "disc": f"{self.unit * 3.2:.0f}", "text": f"{self.unit * 4:.0f}"}


def marked(photo: Photo, marks) -> Marked:
    """`marks` are (number, across, down)."""
    unit = max(photo.width, photo.height) / 100
    return Marked(photo, [_dot(photo, unit, *mark) for mark in marks], unit)


def _dot(photo, unit, number, across, down) -> Dot:
    """The number stands to the upper right of its ring, or on the other side where the photo ends there."""
    x, y, away = float(across) * photo.width, float(down) * photo.height, 6 * unit
    tag_x = x + away if x + away + 4 * unit < photo.width else x - away
    tag_y = y - away if y - away - 4 * unit > 0 else y + away
    return Dot(number, *(f"{value:.0f}" for value in (x, y, tag_x, tag_y, tag_y + 1.4 * unit)))


def marked_photos(shown: list[Indication]) -> list[Marked]:
    """The photos of a record's indications, each with its marks."""
    by_photo: dict[int, list[Indication]] = {}
    for one in shown:
        if one.photo_id and one.across is not None:
            by_photo.setdefault(one.photo_id, []).append(one)
    return [
        marked(photo, [(x.number, x.across, x.down) for x in ones])
        for ones in by_photo.values()
        if (photo := ones[0].photo)
    ]


def shown_by(record: Examination) -> list[Indication]:
    return list(record.indications.select_related("photo").order_by("number"))
