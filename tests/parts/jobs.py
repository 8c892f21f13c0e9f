"""Short cuts for tests of the ways back: a firm, a repair, a renewal, in the hands of the cast."""

from django.core.files.base import ContentFile

from parts.domain.stocktaking import mark_of
from parts.domain.words import State
from parts.drawings.writers import drawings
from parts.foundry.writers.contractions import add_density, strike_out
from parts.holds import writers as holds
from parts.models import Firm, Photo, Renewal, RenewalStep, Repair
from parts.stock_take import writers as stocktaking
from parts.structure.writers.evidence import add_evidence
from parts.work.writers import firms, renewals, repairs, steps
from parts.work.writers.decisions import Weighed, decide
from tests.factories import Works, days, fresh
from tests.remembered import numbers, remembered


@remembered
def a_firm(works: Works, **entered) -> Firm:
    return firms.add_firm(works.people.manager, **{"name": f"Invented Foundry {next(numbers)}"} | entered)


@remembered
def a_repair(works: Works, piece=None, **entered) -> Repair:
    piece = piece or works.piece(State.CLEANED)
    entered = {"method": "bush", "what": "bush the bore"} | entered
    return repairs.open_repair(piece, works.people.fitter, **entered)


@remembered
def a_renewal(works: Works, place=None, **entered) -> Renewal:
    place = place or an_empty_place(works)
    return renewals.open_renewal(place, works.people.manager, **{"route": "pattern-old"} | entered)


@remembered
def an_empty_place(works: Works, **fields):
    place = works.plain_place(**fields)
    works.know_empty(place)
    return place


def steps_of(renewal: Renewal) -> list[RenewalStep]:
    return list(renewal.steps.order_by("number"))


def names_of(renewal: Renewal) -> list[tuple[str, str]]:
    return [(step.name, step.ended) for step in steps_of(renewal)]


def stands(place) -> tuple[str, str]:
    fresh(place)
    return place.standing, place.need


def ways_that_last(works: Works, piece, record) -> None:
    """Everything of the ways back that must last: a decision with all it rests on, a promise, evidence."""
    pictures = [
        Photo.objects.create(
            name=f"photo{next(numbers)}", original_suffix=".jpg", width=9, height=9, by=works.people.volunteer, **on
        )
        for on in ({"component": piece}, {"position": piece.place})
    ]
    decide(
        works.people.engineer, component=piece, outcome="repair", reason="mend it", provisional=True,
        options=[Weighed(what="weld it")], examined=[record.event], photos=pictures[:1],
    )  # fmt: skip
    steps.promise_step(steps_of(a_renewal(works))[0], works.people.manager, new=days(9))
    figure = {"material": "invented", "kg_m3": 900, "as_written": "0.9", "source": "invented"}
    strike_out(add_density(works.people.manager, **figure), works.people.manager, why="invented")
    add_evidence(piece.place, works.people.volunteer, kind="holes", words="two holes", photos=pictures[1:])


def releases_that_last(works: Works) -> None:
    """A release of a hold point, with its paper."""
    hold = holds.add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="survey", stops=["refit"], body="the owner"
    )
    letter = ContentFile(b"%PDF-1.4 invented letter", name="letter.pdf")
    holds.release(hold, works.people.engineer, reference="letter 4", paper=letter)


def a_count_that_lasts(works: Works) -> None:
    """A stock-take of a crate, confirmed."""
    stocktake = stocktaking.begin(works.crate, works.people.storekeeper)
    now = mark_of((line.piece.pk, line.outcome) for line in stocktaking.lines_of(stocktake))
    stocktaking.confirm(stocktake, works.people.storekeeper, mark=now)
    assert stocktake.lines.exists()


def drawings_that_last(works: Works, piece) -> None:
    """A conflict between two drawings that is settled."""
    pair = [drawings.add_drawing(works.people.fitter, number=f"D {n}", title="axlebox") for n in (1, 2)]
    sides = zip(pair, ("126 mm", "127 mm"), strict=True)
    conflict = drawings.note_conflict(piece.place, works.people.fitter, about="bore", sides=sides)
    drawings.settle_conflict(conflict, works.people.engineer, settled="Measured: 127 mm.", rests_on=pair[1])
