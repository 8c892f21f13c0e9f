"""The steps of putting a subassembly together, each as the page shows it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from core.domain.catalogue import may
from parts.domain.cautions import before
from parts.domain.fastening import Fastening
from parts.domain.needs import PlaceStatus
from parts.domain.plain import several
from parts.domain.readiness import Readiness
from parts.domain.rows import Piece
from parts.domain.words import State
from parts.models import Component, Photo, Subassembly

from ..domain.boxing_up import Inside
from .inside import Fitted, load_inside

PHOTOS = 3
FITTABLE = (State.ACCEPTED, State.RENEWED)


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstThing:
    """What must be on before, and whether it is."""

    words: str
    there: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPiece:
    """A piece of a step, with how it was found at strip and how it is held now."""

    name: str
    code: str
    as_found: tuple[tuple[str, str], ...]
    photos: tuple[Photo, ...]
    fitted: Fitted
    action: str  # the slug of what to do next here: refit, lock, or nothing
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxingUpStep:
    words: str
    href: str
    word: str  # refitted, ready, waits, blocked, not locked, on trial, in doubt
    reason: str
    made_to_suit: bool
    critical: bool
    first: tuple[FirstThing, ...]
    pieces: tuple[FoundPiece, ...]
    sizes: tuple[tuple[str, bool], ...]  # a sentence each, and whether it is outside


def load_steps(subassembly: Subassembly, found: Readiness, today: date, roles) -> tuple[list[BoxingUpStep], list[str]]:
    """Its own places in order, and the cautions for what is still to be refitted."""
    inside, fitted = load_inside([subassembly.pk], today)
    inside = [one for one in inside if one.standing.status not in (PlaceStatus.ASLEEP, PlaceStatus.NOT_REQUIRED)]
    as_found = _AsFound(inside, fitted, may(roles, "refit"))
    standing = {sub.sub.id: sub for sub in found.subassemblies}
    waits = [wait for wait in standing[subassembly.pk].waits if wait.places] if subassembly.pk in standing else []
    steps = [_step(one, as_found, bool(waits), tuple(_first(one, standing))) for one in inside]
    cautions = [text for one in inside if one.standing.status is not PlaceStatus.REFITTED for text in _cautions(one)]
    return steps, list(dict.fromkeys(cautions))


def first_of(subassembly: Subassembly, found: Readiness) -> list[FirstThing]:
    """What the whole subassembly goes on after."""
    by_id = found.order.by_id
    own = next((sub for sub in found.subassemblies if sub.sub.id == subassembly.pk), None)
    return [_told(by_id[wait.id].name, wait.places) for wait in (own.waits if own else ())]


def _told(name: str, places: int) -> FirstThing:
    lacking = f": {several(places, 'place is', 'places are')} not refitted" if places else ""
    return FirstThing(words=f"{name}{lacking}", there=not places)


def _first(one: Inside, standing) -> Iterator[FirstThing]:
    for pk in one.place.own_order:
        if sub := standing.get(pk):
            yield _told(sub.sub.name, sub.branch.required - sub.branch.refitted)
    for words in one.place.inner_open:
        yield FirstThing(words=f"{words}, inside it", there=False)


def _cautions(one: Inside) -> tuple[str, ...]:
    return before("refit", one.place, one.place.pieces[0] if one.place.pieces else None)


def _step(one: Inside, as_found: "_AsFound", waits: bool, first: tuple[FirstThing, ...]) -> BoxingUpStep:
    place, missing = one.place, [thing.words for thing in first if not thing.there]
    word, reason = _word(one, waits, missing)
    sizes = [(fit.sentence, fit.outside and not fit.concession) for fit in place.fits]
    sizes += [
        (size.sentence, size.outside and not size.concession)
        for piece in place.pieces
        for size in piece.dimensions
        if size.sentence
    ]
    return BoxingUpStep(
        words=place.words or place.name,
        href=reverse("position", args=[place.id]),
        word=word,
        reason=reason,
        made_to_suit=place.made_to_suit,
        critical=place.safety_critical,
        first=first,
        pieces=tuple(as_found.of(piece, one, word) for piece in place.pieces),
        sizes=tuple(sizes),
    )


def _word(one: Inside, waits: bool, missing: Iterable[str]) -> tuple[str, str]:
    standing, first = one.standing, "; ".join(missing)
    reason = standing.reasons[0] if standing.reasons else ""
    if standing.on_trial:
        return "on trial", "It is offered up, and does not count until it is refitted."
    if standing.in_doubt:
        return "in doubt", reason
    if standing.status is PlaceStatus.REFITTED:
        return ("not locked", "Nobody has said how it is locked.") if one.loose else ("refitted", "")
    if standing.status is PlaceStatus.BLOCKED:
        return "blocked", reason
    if first:
        return "waits", f"First: {first}."
    return ("waits", "What the subassembly goes on after is not there yet.") if waits else ("ready", "")


class _AsFound:
    """How the pieces were found: what was written and photographed of them and of their places."""

    def __init__(self, inside: list[Inside], fitted: dict[int, Fitted], may_fit: bool):
        pieces = [piece.id for one in inside for piece in one.place.pieces]
        self.written = Component.objects.in_bulk(pieces)
        self.fitted, self.may_fit = fitted, may_fit
        self.photos: dict[tuple[str, int], list[Photo]] = defaultdict(list)
        taken = Photo.objects.filter(component__in=pieces) | Photo.objects.filter(
            position__in=[one.place.id for one in inside]
        )
        for photo in taken.order_by("pk"):
            of = ("piece", photo.component_id or 0) if photo.component_id else ("place", photo.position_id or 0)
            self.photos[of].append(photo)

    def of(self, piece: Piece, one: Inside, word: str) -> FoundPiece:
        row, fitted = self.written[piece.id], self.fitted.get(piece.id, Fitted())
        noted = (("Which way round", row.way_round), ("Marks", row.marks), ("Packing and shims as found", row.packing))
        photos = self.photos["piece", piece.id] + self.photos["place", one.place.id]
        action, label = self._next(piece, one, word)
        return FoundPiece(
            name=piece.name,
            code=piece.tag,
            as_found=tuple((name, words) for name, words in noted if words),
            photos=tuple(photos[:PHOTOS]),
            fitted=fitted if piece.state is State.REFITTED else Fitted(Fastening()),
            action=action if self.may_fit and piece.tag else "",
            label=label,
        )

    def _next(self, piece: Piece, one: Inside, word: str) -> tuple[str, str]:
        if piece.state in FITTABLE and word in ("ready", "on trial"):
            return "refit", "Refit"
        if piece in one.loose:
            return "lock", "Say how locked"
        return "", ""
