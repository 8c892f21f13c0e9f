"""What a place needs of itself: refitted, ready or blocked, the need that leads, and every reason behind it.

`standing` reads no clock and no other subassembly, so its answer may be stored beside the place until the place's own
rows change. `changes` says from which days on the calendar alone makes it stand otherwise: a look-again date, a lapsed
calibration, release or concession. Those are stored too. `standing_today` is both, with sentences for people.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from .hold_words import FINISH_STEP
from .piece_needs import Reason, doubts_about, holding, noted_in_words, reasons_against
from .plain import capital, day, overdue, slipped
from .rows import Piece, Place, Renewal
from .words import LIVE, Need, State


class PlaceStatus(StrEnum):
    """How a place stands. The first three are the ones that are counted."""

    REFITTED = "refitted"  # its pieces are back, as many as it takes
    READY = "ready"  # its pieces could go on today
    BLOCKED = "blocked"  # something stands against it
    ASLEEP = "asleep"  # inside a built-up piece that is not broken down
    NOT_REQUIRED = "not required"  # it may stay empty


RANK: dict[str, int] = {need: rank for rank, need in enumerate(Need)}
"""The order in which needs lead: that of the table in words.Need."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A blocked place always has a need; another one has a need only when a refitted piece of it is in doubt."""

    status: PlaceStatus
    need: Need | None = None
    reasons: tuple[str, ...] = ()
    since: date | None = None
    due: date | None = None
    tag: str = ""  # of the piece that the leading reason is about
    in_doubt: bool = False
    on_trial: bool = False
    target: int = 0  # the hold point, repair or renewal that the leading reason is about


@dataclass(frozen=True, slots=True)
class StandingChange:
    """How a place stands from a day on, by the calendar alone."""

    on: date
    status: PlaceStatus
    need: Need | None


BEFORE = date.min
"""Before any of the days on which a place might change."""


def standing(place: Place) -> Standing:
    """The standing that may be stored beside the place."""
    return standing_today(place, BEFORE)


def changes(place: Place) -> list[StandingChange]:
    """When the calendar alone makes it stand otherwise than `standing` says, and how, in order of time."""
    found: list[StandingChange] = []
    days = sorted(set(_days(place)))
    was = standing(place) if days else None
    for on in days:
        now = standing_today(place, on)
        if was and (now.status, now.need) != (was.status, was.need):
            found.append(StandingChange(on, now.status, now.need))
        was = now
    return found


def _days(place: Place) -> Iterator[date]:
    """Every day on which something that its standing rests on ends."""
    holds = (*place.holds, *(hold for piece in place.pieces for hold in piece.holds))
    sizes = [size for piece in place.pieces for size in piece.dimensions]
    last = [hold.expires for hold in holds if hold.released] + [size.calibrated_until for size in sizes]
    yield from (day + timedelta(1) for day in last if day and day < date.max)
    ends = [piece.look_again for piece in place.pieces] + [size.conceded_until for size in sizes]
    yield from filter(None, ends + [fit.conceded_until for fit in place.fits])


def doubts(place: Place, piece: Piece, today: date) -> list[str]:
    """Why this piece may not be good any more, a sentence each; empty when it is in no doubt."""
    return [reason.sentence for reason in doubts_about(place, piece, today)]


def standing_today(place: Place, today: date) -> Standing:
    """The standing that people are shown."""
    if place.asleep:
        return Standing(PlaceStatus.ASLEEP)
    if not place.required:
        return Standing(PlaceStatus.NOT_REQUIRED)
    pieces = [piece for piece in place.pieces if piece.state in LIVE]
    without = place.quantity - sum(piece.quantity for piece in pieces)
    reasons = [reason for piece in pieces for reason in reasons_against(place, piece, today)]
    if without > 0:
        reasons += _unfilled(place, without, today)
    if any(piece.state in (State.ACCEPTED, State.RENEWED) for piece in pieces):
        reasons += fits_against(place)
    doubts = [r for piece in pieces if piece.state == State.REFITTED for r in doubts_about(place, piece, today)]
    refitted = sum(p.quantity for p in pieces if p.state == State.REFITTED)
    status = (
        PlaceStatus.BLOCKED if reasons else PlaceStatus.REFITTED if refitted >= place.quantity else PlaceStatus.READY
    )
    notes = ([] if without > 0 else _renewal_beside(place, today)) + _noted(place, pieces, without)
    return _summed_up(status, reasons + doubts, notes, pieces)


def _summed_up(status: PlaceStatus, reasons: list[Reason], notes: list[str], pieces: list[Piece]) -> Standing:
    ordered = sorted(reasons, key=lambda reason: RANK[reason.need])
    sentences = tuple(dict.fromkeys([reason.sentence for reason in ordered] + notes + _trials(pieces)))
    on_trial = any(piece.on_trial for piece in pieces)
    if not ordered:
        since = max((piece.since for piece in pieces if piece.since), default=None)
        return Standing(status, None, sentences, since, on_trial=on_trial)
    lead, in_doubt = ordered[0], any(reason.need == Need.RECHECK for reason in ordered)
    return Standing(status, lead.need, sentences, lead.since, lead.due, lead.tag, in_doubt, on_trial, lead.target)


def _unfilled(place: Place, without: int, today: date) -> Iterator[Reason]:
    """A place, or what remains of a lot, without a piece."""
    yield from holding(place.holds, _next_without_a_piece(place), today)
    name = capital(place.words or place.name)
    share = f" ({without} of {place.quantity})" if place.quantity > 1 else ""
    if place.known_empty and place.made_to_suit:
        return  # it is made at fitting, so nothing has to be found or ordered
    if place.renewal:
        yield _awaiting(place.renewal, today)
    elif place.known_empty:
        evidence = f": {place.evidence.rstrip('.')}" if place.evidence else ""
        sentence = f"{name}{share} is empty{evidence}. No new piece is under way."
        yield Reason(Need.SOURCE, sentence, place.empty_since)
    else:
        yield Reason(Need.STRIP, f"{name}{share} has not been looked at yet.")


def _next_without_a_piece(place: Place) -> set[str]:
    if place.known_empty and place.made_to_suit:
        return {"refit"}
    if place.renewal:
        return {FINISH_STEP, "pass"} | (set() if place.renewal.tag else {"start on"})
    return {"start on"} if place.known_empty else {"strip"}


def _awaiting(renewal: Renewal, today: date) -> Reason:
    sentence = f"A new piece is under way: {renewal_in_words(renewal, today)}."
    return Reason(Need.AWAIT, sentence, renewal.since, renewal.promised, renewal.tag, renewal.id)


def renewal_in_words(renewal: Renewal, today: date) -> str:
    who = f", with {renewal.who}" if renewal.who else ""
    since = f" since {day(renewal.since)}" if renewal.since else ""
    if not renewal.promised:
        promised = ", with no date promised" if renewal.steps_open or not renewal.id else ""
        return f"{renewal.step}{who}{since}{promised}"
    late = overdue(renewal.promised, today) + slipped(renewal.slips)
    return f"{renewal.step}{who}{since}, promised for {day(renewal.promised)}{late}"


def _noted(place: Place, pieces: list[Piece], without: int) -> list[str]:
    """What was decided provisionally is told behind what is needed; it makes nothing ready."""
    noted = [(f"{capital(piece.name or place.name)} {piece.tag}".strip(), piece.provisional) for piece in pieces]
    if without > 0:
        noted.append((capital(place.words or place.name), place.provisional))
    return [f"{who}: {noted_in_words(decision)}" for who, decision in noted if decision]


def _renewal_beside(place: Place, today: date) -> list[str]:
    """While the old piece still fills the place, its own needs lead; the new one is told behind them."""
    if place.renewal is None:
        return []
    return [f"A new piece is under way beside the old one: {renewal_in_words(place.renewal, today)}."]


def _trials(pieces: list[Piece]) -> list[str]:
    return [
        f"{piece.tag} is offered up on trial, which does not count as refitted." for piece in pieces if piece.on_trial
    ]


def fits_against(place: Place) -> Iterator[Reason]:
    """Pairs out of limits whose mate is settled: what keeps a piece that is good by itself from going on."""
    for fit in place.fits:
        if fit.outside and fit.mate_settled and not fit.concession:
            sentence = capital(fit.sentence or f"the fit with {fit.mate}")
            yield Reason(Need.FIT, f"{sentence}: out of limits with {fit.mate}, with no concession.", target=fit.number)
