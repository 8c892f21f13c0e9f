"""Rows for tests of the rules, invented: each factory makes the plainest thing of its sort, a test says the rest."""

from datetime import date
from itertools import count

from parts.domain.needs import PlaceStatus, Standing, standing, standing_today
from parts.domain.rows import Dimension, Examination, Hold, Piece, Place, Renewal
from parts.domain.words import Kind, Method, Result, State

TODAY = date(2031, 5, 10)
YESTERDAY = date(2031, 5, 9)
TOMORROW = date(2031, 5, 11)

numbers = count(1)


def piece(state=State.ACCEPTED, **facts) -> Piece:
    """Work and cleaning came at events 10 and 20; whatever is signed at 30 counts. Looked at, unless told otherwise."""
    number = next(numbers)
    facts = {"tag": f"TAG{number}", "bared_event": 10, "cleaned_event": 20, "examinations": (crack_check(),)} | facts
    return Piece(id=number, state=state, **facts)


def place(*pieces, **facts) -> Place:
    """An axlebox that calls for a crack check, with these pieces in it."""
    facts = {"name": "axlebox", "words": "axlebox, LH, leading axle", "crack_check": Method.ANY} | facts
    return Place(**{"id": next(numbers), "subassembly": 1} | facts, pieces=pieces)


def crack_check(**facts) -> Examination:
    return Examination(**{"kind": Kind.CRACK_CHECK, "method": Method.PENETRANT, "event": 30, "by": 7} | facts)


def visual(**facts) -> Examination:
    return Examination(**{"kind": Kind.VISUAL, "event": 30, "by": 7} | facts)


def sizes_taken(**facts) -> Examination:
    return Examination(**{"kind": Kind.DIMENSIONAL, "event": 30, "by": 7} | facts)


def size(**facts) -> Dimension:
    return Dimension(**{"name": "journal diameter", "event": 30} | facts)


def hold(*stops, **facts) -> Hold:
    return Hold(**{"name": "design approval", "stops": frozenset(stops), "body": "the inspecting body"} | facts)


def renewal(**facts) -> Renewal:
    return Renewal(**{"step": "casting", "who": "Invented Foundry", "promised": TOMORROW, "tag": "NEW1"} | facts)


INDICATION = crack_check(result=Result.INDICATION, text="crack, 12 mm, in the fillet")


def blocked(place_: Place, today: date | None = None) -> Standing:
    """The standing of a place that is expected to be blocked."""
    found = standing_today(place_, today) if today else standing(place_)
    assert found.status == PlaceStatus.BLOCKED
    return found
