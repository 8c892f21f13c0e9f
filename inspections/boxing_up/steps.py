"""The steps of putting a subassembly together, each as the page shows it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from urllib.parse import urlencode

from django.urls import reverse

from core.domain.catalogue import may
from parts.domain.cautions import before
from parts.domain.needs import PlaceStatus
from parts.domain.plain import several
from parts.domain.readiness import Readiness, SubReadiness
from parts.domain.rows import Piece
from parts.domain.words import State
from parts.models import Component, Photo, Subassembly

from ..domain.boxing_up import Inside, keeping_open
from .inside import Fitted, load_inside

PHOTOS = 3
FITTABLE = (State.ACCEPTED, State.RENEWED)
GO_ON = ("ready", "outside", "not locked")  # what somebody can do something about here and now


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
    lies: str  # where it is to be fetched from
    as_found: tuple[tuple[str, str], ...]
    photos: tuple[Photo, ...]
    fitted: Fitted
    label: str
    href: str  # where to say what to do next here; blank if nothing is


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxingUpStep:
    place: int
    words: str
    href: str
    word: str  # refitted, ready, waits, blocked, not locked, outside, on trial, in doubt
    reason: str
    made_to_suit: bool
    critical: bool
    first: tuple[FirstThing, ...]
    pieces: tuple[FoundPiece, ...]
    sizes: tuple[tuple[str, bool], ...]  # a sentence each, and whether it is outside


def load_steps(subassembly: Subassembly, found: Readiness, today: date, roles) -> tuple[list[BoxingUpStep], list[str]]:
    """Its own places in order, and the cautions for what is still to be refitted."""
    inside, fitted = load_inside([subassembly.pk], today)
    inside = [one for one in inside if one.counts]
    address = reverse("put_together", args=[subassembly.locomotive.slug, subassembly.code])
    as_found = _AsFound(inside, fitted, address if may(roles, "refit") else "")
    standing = {sub.sub.id: sub for sub in found.subassemblies}
    stops = _stops(standing.get(subassembly.pk))
    steps = [_step(one, as_found, stops, tuple(_first(one, standing))) for one in inside]
    cautions = [text for one in inside if one.standing.status is not PlaceStatus.REFITTED for text in _cautions(one)]
    return steps, list(dict.fromkeys(cautions))


def next_step(steps: list[BoxingUpStep], after: int) -> int:
    """The number of the one to go on with: the first that can be done now, from the place that was done last on. 0 if
    there is none."""
    begin = next((at for at, step in enumerate(steps) if step.place == after), 0)
    onward = [*range(begin, len(steps)), *range(begin)]
    return next((at + 1 for at in onward if steps[at].word in GO_ON), 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Steps one after another that are done, or that are not."""

    done: bool
    steps: tuple[tuple[int, BoxingUpStep], ...]  # each with its number


def in_runs(steps: list[BoxingUpStep]) -> list[Run]:
    numbered = groupby(enumerate(steps, 1), key=lambda one: one[1].word == "refitted")
    return [Run(done=done, steps=tuple(run)) for done, run in numbered]


def do(piece: Piece, action: str, back: str) -> str:
    return f"{reverse('do', args=[piece.tag, action])}?{urlencode({'back': back})}"


def to_mend(inside: list[Inside], back: str) -> list[tuple[str, list[tuple[str, str]]]]:
    """What keeps it open: in words how many places, and each in words with where it is mended."""
    return [
        (told, [(one.words, _mended_at(one, code, back)) for one in these])
        for code, told, _, these in keeping_open(inside)
    ]


def _mended_at(one: Inside, code: str, back: str) -> str:
    loose = one.loose if code == "locked" else one.outside if code == "built" else []
    fittable = [piece for piece in one.place.pieces if piece.state in FITTABLE] if code != "doubt" else []
    piece = next((piece for piece in [*loose, *fittable, *one.place.pieces] if piece.tag), None)
    if piece is None:
        return reverse("position", args=[one.place.id])
    if piece in loose or piece in fittable:
        return do(piece, "lock" if piece in loose else "refit", back)
    return reverse("tag", args=[piece.tag])


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


def _stops(sub: SubReadiness | None) -> str:
    """Why nothing of it may go on yet."""
    if sub is None or sub.its_turn:
        return ""
    return "A hold point stops it." if sub.held else "What the subassembly goes on after is not there yet."


def _step(one: Inside, as_found: "_AsFound", stops: str, first: tuple[FirstThing, ...]) -> BoxingUpStep:
    place, missing = one.place, [thing.words for thing in first if not thing.there]
    word, reason = _word(one, stops, missing)
    sizes = [(fit.sentence, fit.outside and not fit.concession) for fit in place.fits]
    sizes += [
        (size.sentence, size.outside and not size.concession)
        for piece in place.pieces
        for size in piece.dimensions
        if size.sentence
    ]
    return BoxingUpStep(
        place=place.id,
        words=one.words,
        href=reverse("position", args=[place.id]),
        word=word,
        reason=reason,
        made_to_suit=place.made_to_suit,
        critical=place.safety_critical,
        first=first,
        pieces=tuple(as_found.of(piece, one, word) for piece in place.pieces),
        sizes=tuple(sizes),
    )


def _word(one: Inside, stops: str, missing: Iterable[str]) -> tuple[str, str]:
    standing, first = one.standing, "; ".join(missing)
    reason = standing.reasons[0] if standing.reasons else ""
    if standing.on_trial:
        return "on trial", "It is offered up, and does not count until it is refitted."
    if standing.in_doubt:
        return "in doubt", reason
    if told := [figure.words for piece in one.outside for figure in one.held[piece.id].outside]:
        return "outside", f"{'; '.join(told)}. Put it right and measure again, or the engineer says why it may stand."
    if standing.status is PlaceStatus.REFITTED:
        return ("not locked", "Record how it is locked.") if one.loose else ("refitted", "")
    if standing.status is PlaceStatus.BLOCKED:
        return "blocked", reason
    if first:
        return "waits", f"First: {first}."
    return ("waits", stops) if stops else ("ready", "")


class _AsFound:
    """How the pieces were found: what was written and photographed of them and of their places."""

    def __init__(self, inside: list[Inside], fitted: dict[int, Fitted], back: str):
        pieces = [piece.id for one in inside for piece in one.place.pieces]
        self.written = Component.objects.select_related("location", "replaces").in_bulk(pieces)
        replaced = {row.replaces_id: pk for pk, row in self.written.items() if row.replaces_id}
        self.fitted, self.back = fitted, back
        self.photos: dict[tuple[str, int], list[Photo]] = defaultdict(list)
        taken = Photo.objects.filter(component__in=[*pieces, *replaced]) | Photo.objects.filter(
            position__in=[one.place.id for one in inside]
        )
        for photo in taken.order_by("pk"):
            piece = photo.component_id and replaced.get(photo.component_id, photo.component_id)
            self.photos["piece" if piece else "place", piece or photo.position_id or 0].append(photo)

    def of(self, piece: Piece, one: Inside, word: str) -> FoundPiece:
        row, fitted = self.written[piece.id], self.fitted.get(piece.id, Fitted())
        noted = (
            ("Which way round", _noted(row, "way_round")),
            ("Marks", _noted(row, "marks")),
            ("Packing and shims as found", _noted(row, "packing")),
        )
        photos = self.photos["piece", piece.id] + self.photos["place", one.place.id]
        action, label = self._next(piece, one, word)
        return FoundPiece(
            name=piece.name,
            code=piece.tag,
            lies=row.location.words if row.location and piece.state is not State.REFITTED else "",
            as_found=tuple((name, words) for name, words in noted if words),
            photos=tuple(photos[:PHOTOS]),
            fitted=fitted if piece.state is State.REFITTED else Fitted(),
            label=label,
            href=self._href(piece, one, action) if action and self.back and piece.tag else "",
        )

    def _href(self, piece: Piece, one: Inside, action: str) -> str:
        """From there back to the step that comes next."""
        return do(piece, action, f"{self.back}?after={one.place.id}#go-on")

    def _next(self, piece: Piece, one: Inside, word: str) -> tuple[str, str]:
        if piece.state in FITTABLE and word in ("ready", "on trial"):
            return "refit", "Refit"
        if piece in one.loose or piece in one.outside:
            return "lock", "Say how locked" if piece in one.loose else "Measured again"
        return "", ""


def _noted(row: Component, field: str) -> str:
    """Of a new piece that nothing is noted of, what was noted of the one that it replaces."""
    if own := getattr(row, field):
        return own
    before = getattr(row.replaces, field) if row.replaces else ""
    return f"{before} (the one before it)" if before else ""
