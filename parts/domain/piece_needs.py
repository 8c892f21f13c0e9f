"""What one live piece needs before it fills its place: every reason, in no order yet; `needs.py` says which leads."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from .exams_due import PASSED, MissingExam, finding, is_whole_look, missing_exams, unanswered, vouched
from .job_words import RepairMethod
from .plain import capital, day, listed, overdue, several, slipped
from .rows import Dimension, Examination, Hold, Piece, Place, Provisional
from .words import Kind, Need, Result, State, Whereabouts


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that stands against a place, as a sentence, with the piece it is about."""

    need: Need
    sentence: str
    since: date | None = None
    due: date | None = None
    tag: str = ""
    target: int = 0  # the hold point, the open repair or renewal, or the fit, that it is about


NEXT_ACTION = {
    State.IN_PLACE: "strip",
    State.STRIPPED: "clean",
    State.CLEANED: "accept",  # where its place calls for no crack check
    State.CRACK_CHECKED: "accept",
    State.ACCEPTED: "refit",
    State.RENEWED: "refit",
}

LOOK_NEED = {
    Kind.CRACK_CHECK: Need.CRACK_CHECK,
    Kind.VISUAL: Need.EXAMINE,
    Kind.DIMENSIONAL: Need.MEASURE,
    Kind.THICKNESS: Need.MEASURE,
    Kind.HYDRAULIC_TEST: Need.EXAMINE,
    Kind.CALIBRATION: Need.EXAMINE,
    Kind.SET_PRESSURE: Need.EXAMINE,
    Kind.SPRING_TEST: Need.EXAMINE,
    Kind.PRESSURE_TEST: Need.EXAMINE,
}

AT_RISK = PASSED | {State.IN_PLACE}
"""States in which a passed look-again date matters. A piece sent back is being looked at again anyway."""

IN_HAND = frozenset(NEXT_ACTION) - {State.IN_PLACE}


def reasons_against(place: Place, piece: Piece, today: date) -> Iterator[Reason]:
    """Everything that keeps this piece from being ready or, once refitted, from counting as refitted."""
    yield from _lost(place, piece)
    if piece.state == State.REFITTED:
        yield from _stops(place, piece, today)
    if piece.state != State.REFITTED:
        yield from _away(place, piece, today)
        action = "finish repair" if piece.repairs else _next_action(place, piece)
        yield from holding(place.holds, {action}, today, tag=piece.tag)
        yield from _own_holds(place, piece, action, today)
        yield from findings(place, piece)
        yield from _repairs(place, piece, today)
        yield from provisional(place, piece)
        yield from doubts_about(place, piece, today)
        yield from _next_step(place, piece)
        yield from _own_places(place, piece)
    if awaits_a_name(place, piece):
        yield Reason(
            Need.SIGN,
            f"{subject(place, piece)} was imported as {piece.vouched_state}; "
            "the responsible engineer has not confirmed it.",
            piece.since,
            tag=piece.tag,
        )


def _next_action(place: Place, piece: Piece) -> str:
    if piece.state == State.CLEANED and place.crack_check_method:
        return "crack-check"
    return NEXT_ACTION[piece.state]


def doubts_about(place: Place, piece: Piece, today: date) -> Iterator[Reason]:
    """Why a piece that was found good may not be good any more. Some doubts come with the calendar."""
    who = subject(place, piece)
    if piece.state in PASSED and not piece.left_alone:
        for look in missing_exams(place, piece):
            if look.code != "undecided":
                yield Reason(Need.RECHECK, f"{who} is in doubt. {look.sentence}", piece.since, tag=piece.tag)
    if piece.state == State.REFITTED:
        for found in findings(place, piece):
            yield Reason(Need.RECHECK, f"In doubt. {found.sentence}", found.since, tag=piece.tag)
    for size in _relied_on(piece):
        if size.found_out:
            sentence = (
                f"{capital(size.name)} was measured with {size.instrument}, which was found out of true afterwards."
            )
            yield Reason(Need.RECHECK, f"{who} is in doubt. {sentence}", piece.since, tag=piece.tag)
    if piece.state in PASSED:
        yield from _lapsed(place, piece, who, today)
    if (
        piece.state in AT_RISK
        and piece.look_again
        and piece.look_again <= today
        and not _looked_since(place, piece, piece.look_again)
    ):
        sentence = f"{who} is in doubt: it was to be looked at again by {day(piece.look_again)}."
        yield Reason(Need.RECHECK, sentence, piece.look_again, piece.look_again, piece.tag)
    for doubt in piece.doubts:
        yield Reason(Need.RECHECK, f"{who} is in doubt. {doubt}", piece.since, tag=piece.tag)


def _relied_on(piece: Piece) -> list[Dimension]:
    """The sizes that what was found rests on; one taken before the last work counts no longer."""
    return [] if piece.left_alone else [size for size in piece.dimensions if size.event > piece.bared_event]


def _lapsed(place: Place, piece: Piece, who: str, today: date) -> Iterator[Reason]:
    """What an acceptance rests on and the calendar ended: an instrument's calibration, a concession."""
    for size in _relied_on(piece):
        if size.instrument and (size.calibrated_until is None or size.calibrated_until < today):
            until = f" after {day(size.calibrated_until)}" if size.calibrated_until else ""
            sentence = f"The calibration of {size.instrument}, with which {size.name} was measured, lapsed{until}."
            since = size.calibrated_until or piece.since
            yield Reason(Need.RECHECK, f"{who} is in doubt. {sentence}", since, size.calibrated_until, piece.tag)
    conceded = [(size.name, size.conceded_until) for size in _relied_on(piece) if size.concession]
    conceded += [(f"the fit with {fit.mate}", fit.conceded_until) for fit in place.fits if fit.concession]
    for what, ended in conceded:
        if ended and ended <= today:
            sentence = f"The concession on {what} was to be looked at again by {day(ended)}."
            yield Reason(Need.RECHECK, f"{who} is in doubt. {sentence}", ended, ended, piece.tag)


def holding(holds: tuple[Hold, ...], actions: set[str], today: date, *, tag: str = "") -> Iterator[Reason]:
    """The hold points that stop one of these actions now, and every stop. A release lapses after its last day."""
    for hold in holds:
        if hold.is_released_on(today) or (hold.stops.isdisjoint(actions) and not hold.stopped_by):
            continue
        stopped = f"the next step ({listed(sorted(hold.stops & actions))})"
        since = hold.stopped_on or hold.asked
        yield Reason(Need.RELEASE, held_in_words(hold, [stopped]), since, tag=tag, target=hold.id)


def held_in_words(hold: Hold, stopped: list[str]) -> str:
    """What a hold point stops, until whom; said of one that is not released, or of one whose release has lapsed."""
    if hold.stopped_by and hold.stopped_on:
        return f"Stopped by {hold.stopped_by} on {day(hold.stopped_on)}: {hold.name}. Only {hold.body} lifts the stop."
    ending = f"; its release lapsed after {day(hold.expires)}" if hold.released and hold.expires else ""
    asked = f", asked on {day(hold.asked)}" if hold.asked else ""
    return f"{capital(hold.name)} stops {listed(stopped)} until {hold.body} releases it{asked}{ending}."


def _stops(place: Place, piece: Piece, today: date) -> Iterator[Reason]:
    """What somebody stopped is stopped whatever its state."""
    for hold in (*place.holds, *piece.holds):
        if hold.stopped_by:
            yield from holding((hold,), set(), today, tag=piece.tag)


def _own_holds(place: Place, piece: Piece, action: str, today: date) -> Iterator[Reason]:
    """Of several pieces in one place it is said which one is held."""
    who = f"{subject(place, piece)}: " if piece.quantity < place.quantity else ""
    for reason in holding(piece.holds, {action}, today, tag=piece.tag):
        yield replace(reason, sentence=f"{who}{reason.sentence}")


def awaits_a_name(place: Place, piece: Piece) -> bool:
    """A works' word is not enough for what can hurt someone."""
    return (
        (place.safety_critical or place.pressure_part)
        and piece.state in PASSED
        and piece.vouched_state in PASSED
        and vouched(piece, Kind.DIMENSIONAL)
        and not piece.confirmed
        and not piece.left_alone
    )


def subject(place: Place, piece: Piece) -> str:
    share = f" ({piece.quantity} of {place.quantity})" if place.quantity > 1 else ""
    return f"{capital(piece.name or place.name)} {piece.tag}{share}".strip()


def _lost(place: Place, piece: Piece) -> Iterator[Reason]:
    who, last = subject(place, piece), f" Last known: {piece.where}." if piece.where else ""
    if piece.whereabouts == Whereabouts.UNKNOWN:
        yield Reason(Need.FIND, f"Nobody has recorded where {who} lies.{last}", piece.away_since, tag=piece.tag)
    if piece.whereabouts == Whereabouts.MISSED:
        yield Reason(
            Need.FIND,
            f"{who} was not there{piece.missed and f' {piece.missed}'}.{last}",
            piece.away_since,
            tag=piece.tag,
        )


def _away(place: Place, piece: Piece, today: date) -> Iterator[Reason]:
    if piece.whereabouts != Whereabouts.ELSEWHERE or piece.repairs:
        return
    since = f" since {day(piece.away_since)}" if piece.away_since else ""
    back = piece.promised_back
    promise = f", promised back {day(back)}{overdue(back, today)}" if back else ", with no date promised"
    where = piece.where or "away from the works"
    sentence = f"{subject(place, piece)} has to be fetched: {where}{since}{promise}."
    yield Reason(Need.FETCH, sentence, piece.away_since, back, piece.tag)


def findings(place: Place, piece: Piece) -> Iterator[Reason]:
    """What was found wrong and not dealt with. Cleaning undoes none of it; only work or a superseding record does."""
    settled = {exam.event for exam in piece.examinations if exam.decision in ("repair", "renew", "re-examine")}
    measured_on = {exam.event: exam.on for exam in piece.examinations}
    for size in piece.dimensions:
        if size.event in settled:
            continue  # what its record's decision asks for is told below
        if size.beyond_scrapping or (size.outside and not size.concession):
            sentence = size.sentence or f"{size.name} is outside its limits"  # the sentence ends in its verdict
            conceded = "" if size.beyond_scrapping else " No concession is given."
            if size.event > piece.bared_event:
                since = measured_on.get(size.event) or piece.since
                yield Reason(Need.DECIDE, f"{capital(sentence)}.{conceded}", since, tag=piece.tag)
    told = {size.event for size in piece.dimensions if size.outside and not size.concession}
    for exam in unanswered(piece):
        if exam.decision or exam.event not in told:
            yield from _unanswered(place, piece, exam)


def _unanswered(place: Place, piece: Piece, exam: Examination) -> Iterator[Reason]:
    found, who = finding(exam), subject(place, piece)
    if not exam.decision:
        yield Reason(Need.DECIDE, f"{who} waits for a decision; {found}.", exam.on, tag=piece.tag)
    if exam.decision == "renew" and place.renewal:
        sentence = f"{who} waits to be renewed; {found}."
        yield Reason(Need.AWAIT, sentence, exam.on, place.renewal.promised, piece.tag, place.renewal.id)
    elif exam.decision in ("renew", "withdraw"):
        must = "renewed" if exam.decision == "renew" else "withdrawn"
        yield Reason(Need.DECIDE, f"{who} must be {must}; {found}.", exam.on, tag=piece.tag)
    if exam.decision == "repair" and not piece.repairs:
        yield Reason(Need.REPAIR, f"{who} waits to be repaired; {found}.", exam.on, tag=piece.tag)
    if exam.decision == "re-examine" and not _examined_again(piece, exam):
        yield Reason(LOOK_NEED[exam.kind], f"{who} must be examined again; {found}.", exam.on, tag=piece.tag)


def _examined_again(piece: Piece, exam: Examination) -> bool:
    asked = max(exam.event, exam.decided_event)
    return any(x.kind == exam.kind and x.event > asked and x.signed and not x.superseded for x in piece.examinations)


def _looked_since(place: Place, piece: Piece, due: date) -> bool:
    """A date can only be answered by a date: a sound look at all of the piece, on or after the day it was due."""
    return any(
        x.signed and not x.superseded and x.result == Result.SOUND and x.on is not None and x.on >= due
        for x in piece.examinations
        if is_whole_look(place, x)
    )


def _repairs(place: Place, piece: Piece, today: date) -> Iterator[Reason]:
    for repair in piece.repairs:
        due = repair.promised or (piece.promised_back if piece.whereabouts == Whereabouts.ELSEWHERE else None)
        who = f" by {repair.who}" if repair.who else ""
        promise = f", promised for {day(due)}{overdue(due, today)}{slipped(repair.slips)}" if due else ""
        how = f" ({repair.method})" if repair.method not in ("", RepairMethod.OTHER) else ""
        sentence = f"{subject(place, piece)} is under repair{how}{who}: {repair.what}{promise}."
        yield Reason(Need.REPAIR, sentence, repair.since or piece.since, due, piece.tag, repair.id)


def provisional(place: Place, piece: Piece) -> Iterator[Reason]:
    """A piece that was found good and of which somebody noted something since waits for the decision itself."""
    noted = piece.provisional
    if noted and piece.state in (State.ACCEPTED, State.RENEWED):
        yield Reason(Need.DECIDE, f"{subject(place, piece)}: {noted_in_words(noted)}", noted.on, tag=piece.tag)


def noted_in_words(noted: Provisional) -> str:
    who = f"{noted.by}, {day(noted.on)}" if noted.on else noted.by
    return f"only provisionally decided, to {noted.outcome} ({who}): {noted.reason.rstrip('. ')}."


def _next_step(place: Place, piece: Piece) -> Iterator[Reason]:
    for need, words in _steps(place, piece):
        yield Reason(need, f"{subject(place, piece)} {words}", piece.since, tag=piece.tag)


def _steps(place: Place, piece: Piece) -> Iterator[tuple[Need, str]]:
    since = f" since {day(piece.since)}" if piece.since else ""
    if piece.state == State.IN_PLACE:
        yield Need.STRIP, "is in place and has not been dealt with in this overhaul."
    elif piece.state == State.STRIPPED:
        sent = f"is to be cleaned again; {piece.sent_back_by} sent it back."
        yield Need.CLEAN, sent if piece.as_sent_back else f"has not been cleaned; stripped{since}."
    elif piece.state == State.CLEANED and place.crack_check_method:
        yield from _crack_checks(place, piece)
    elif piece.state in (State.CLEANED, State.CRACK_CHECKED):
        yield from _looks(place, piece)


def _crack_checks(place: Place, piece: Piece) -> Iterator[tuple[Need, str]]:
    looks = [look for look in missing_exams(place, piece) if look.kind is Kind.CRACK_CHECK]
    if not (looks or piece.repairs or any(findings(place, piece))):
        yield Need.CRACK_CHECK, "is cleaned and its crack check is signed; mark it crack-checked."
    for look in looks:
        if look.code != "undecided":
            yield Need.CRACK_CHECK, f"waits for its crack check. {look.sentence}"


def _looks(place: Place, piece: Piece) -> Iterator[tuple[Need, str]]:
    looks: list[MissingExam] = missing_exams(place, piece)
    for look in looks:
        if look.code != "undecided":
            yield LOOK_NEED[look.kind], f"is not examined yet as its place calls for. {look.sentence}"
    if not looks and not any(findings(place, piece)) and not piece.repairs and not place.inner_open:
        yield Need.SIGN, "has every examination that its place asks for, and waits to be accepted."


def _own_places(place: Place, piece: Piece) -> Iterator[Reason]:
    if not (place.inner_open and piece.state in IN_HAND):
        return
    count = len(place.inner_open)
    verb = "is" if count == 1 else "are"
    inside = "; ".join(place.inner_open)  # the words of a place have commas in them
    sentence = f"{several(count, 'place')} inside it {verb} to be filled first: {inside}."
    yield Reason(Need.AFTER, f"{subject(place, piece)}: {sentence}", piece.since, tag=piece.tag)
