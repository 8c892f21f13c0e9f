"""What is stored of a place is what its rows say, after every sort of change; and reading it asks as few questions of
the database for many places as for few."""

from dataclasses import replace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.domain.refusals import Refused
from inspections.findings.writers import decide
from inspections.records.writers.signing import sign
from parts.actions.perform import perform
from parts.actions.refresh import out_of_date, refresh_where
from parts.domain.states import with_a_page
from parts.domain.words import Kind, Method, State
from parts.entering.writers import pieces
from parts.holds import writers as holds
from parts.models import Component, Position
from parts.queries.loading import load_pieces, load_places
from parts.stores import writers as moving
from parts.structure.writers import locomotives, structure
from tests.factories import fresh, how_checked
from tests.parts.domain.plain_cases import FORM


def told(works) -> dict:
    """How each place stands, by its words; first making sure that nothing stored is out of date."""
    assert out_of_date({"locomotive": works.locomotive}) == []
    return {p.words: f"{p.standing} {p.need}".strip() for p in Position.objects.filter(retired=False)}


@pytest.mark.engine
def test_a_register_gone_through_from_end_to_end_is_told_truly_at_every_step(works):
    """One built-up piece stripped, broken down, cleaned, found good and put back: each line by hand."""
    outer_place = works.place(name="axlebox")
    brass_place = works.place(name="brass", part_of=outer_place)
    people = works.people

    def stands():
        return told(works)["axlebox"], told(works)["brass"]

    assert stands() == ("blocked strip", "asleep")
    outer = pieces.strip_new(
        people.volunteer, locomotive=works.locomotive, name="axlebox", place=outer_place, location=works.crate
    )
    assert stands() == ("blocked clean", "asleep")
    works.do("break down", outer, people.fitter)
    assert stands() == ("blocked clean", "blocked clean")
    brass = brass_place.pieces.get()
    works.clean(outer)
    works.clean(brass)
    assert stands() == ("blocked examine", "blocked examine")
    works.look_at(outer)
    works.look_at(brass)
    assert stands() == ("blocked after", "blocked sign")
    works.accept(brass)
    assert stands() == ("blocked after", "ready")
    works.refit(brass)
    assert stands() == ("blocked sign", "refitted")
    works.accept(outer)
    assert stands() == ("ready", "refitted")
    works.refit(outer)
    assert stands() == ("refitted", "refitted")


CHANGES = {
    "a hold point on a piece": lambda w, p: hold(w, component=p),
    "a hold point on a place": lambda w, p: hold(w, position=p.place),
    "a release": lambda w, p: holds.release(
        hold(w, component=p), w.people.engineer, reference="letter 4", filed="boiler file"
    ),
    "a move to a firm": lambda w, p: moving.move(p, w.firm(), w.people.storekeeper),
    "a crate carried to a firm": lambda w, p: moving.move_location(w.crate, w.firm(), w.people.storekeeper),
    "a place made a pressure part": lambda w, p: edit(w, p, pressure_part=True),
    "a place that calls for more": lambda w, p: edit(w, p, crack_check=Method.PENETRANT, calls_for=[Kind.DIMENSIONAL]),
    "a place no longer required": lambda w, p: edit(w, p, required=False),
    "a place that takes more": lambda w, p: edit(w, p, quantity=4),
    "a place added inside": lambda w, p: w.place(name="bush", part_of=p.place),
    "a place given up": lambda w, p: p.fitted or p.state not in ("stripped", "cleaned") or w.give_place(p, None),
    "a lot split": lambda w, p: p.quantity == 1 or p.fitted or w.split(p, 1),
    "a description": lambda w, p: pieces.describe(p, w.people.volunteer, name="another name", papers="cert 4"),
    "a record": lambda w, p: sign(p, w.people.examiner, kind=Kind.VISUAL, result="defect", found="worn hollow"),
}


def hold(works, **on):
    return holds.add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="survey", stops=["clean", "refit", "crack-check"],
        body="the owner", **on,
    )  # fmt: skip


def edit(works, piece, **fields):
    structure.edit_position(piece.place, works.people.manager, **fields)


@pytest.mark.parametrize("change", CHANGES)
@pytest.mark.parametrize("state", [State.CLEANED, State.ACCEPTED, State.REFITTED])
def test_it_stays_true_after(works, change, state):
    piece = works.piece(state, place=works.plain_place(name="rivet", quantity=3))
    if change == "a move to a firm" and state is State.REFITTED:
        piece = works.piece(State.ACCEPTED)  # a fitted one is not moved
    CHANGES[change](works, piece)
    assert out_of_date({"locomotive": works.locomotive}) == []


@pytest.mark.parametrize("action", [action.word for action in with_a_page()])
def test_it_stays_true_after_every_action_from_every_state_that_it_starts_from(works, action):
    pieces = []  # all of them first, as before any other action, so that they are made once (tests/remembered.py)
    for state in (s for s in State if s is not State.WITHDRAWN or action == "bring back"):
        crack_check = Method.ANY if state is State.CRACK_CHECKED else ""
        place = works.plain_place(quantity=2, crack_check=crack_check) if action == "withdraw" else None
        pieces.append(works.piece(state, place=place))
    for piece in pieces:
        other = works.piece(State.CLEANED) if action == "change places" else None
        try_it(action, piece, works.people, other)
    assert out_of_date({"locomotive": works.locomotive}) == []


def try_it(action, piece, people, other):
    try:
        perform(action, piece, people.engineer, replace(FORM, checker=people.second_fitter.pk), other=other)
    except Refused:
        pass  # from most states; what is asked here is only that nothing is stored wrongly


def test_a_decision_is_told_at_once(works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
    record = sign(
        piece,
        works.people.examiner,
        kind=Kind.CRACK_CHECK,
        method=Method.PENETRANT,
        check=how_checked(Method.PENETRANT),
        result="indication",
        found="2 mm",
    )
    decide(record, works.people.engineer, decision="repair", reason="dress it out")
    assert told(works)[piece.place.words] == "blocked repair"


def test_pieces_in_one_crate_are_each_counted_once_when_it_is_carried_about(works):
    """Two lots for one place in the same crate: two of four, not four."""
    place = works.plain_place(name="rivet", quantity=4)
    for _ in range(2):
        works.piece(State.ACCEPTED, place=place, quantity=1)
    moving.move_location(works.crate, works.firm(), works.people.storekeeper)
    moving.move_location(fresh(works.crate), None, works.people.storekeeper)
    assert told(works)[place.words] == "blocked strip"


def test_the_next_overhaul_finds_every_fitted_piece_in_place_and_its_inner_places_asleep(works):
    outer, brass = works.a_broken_down_piece("brass")
    works.bring_on(brass, State.REFITTED)
    works.bring_on(outer, State.REFITTED)
    locomotives.close_overhaul(works.locomotive.open_overhaul(), works.people.manager)
    locomotives.open_overhaul(works.locomotive, works.people.manager, "ten years on")
    assert (told(works)[outer.place.words], told(works)[brass.place.words]) == ("blocked strip", "asleep")
    assert set(Component.objects.values_list("state", flat=True)) == {"in place"}


# --- how many questions are asked


def filled(works, number: int) -> None:
    """So many of each: plain, built-up and broken down, of a matched pair, held, away, examined."""
    for _ in range(number):
        outer, brass = works.a_broken_down_piece("brass")
        works.bring_on(brass, State.CLEANED)
        works.piece(State.ACCEPTED, place=works.critical_place())
        works.examined(works.plain_place(matched="big end"))
        works.piece(State.IN_THE_MAKING, location=works.firm())
        structure.set_order(works.place(name=f"stay {brass.pk}"), [works.another().frames], works.people.manager)
        hold(works, component=outer)


def questions(deed) -> int:
    with CaptureQueriesContext(connection) as asked:
        deed()
    return len(asked)


READ = {
    "load_places": (lambda scope: load_places(scope), 9),
    "load_pieces": (lambda scope: load_pieces({"place__locomotive": scope["locomotive"]}), 3),
    "out_of_date": (lambda scope: out_of_date(scope), 10),
    "refresh_where": (lambda scope: refresh_where(scope), 10),  # where nothing changed
}


def test_reading_asks_as_much_for_three_times_the_places_and_an_action_too(works):
    def one_cleaning():
        piece = works.piece()
        return questions(lambda: works.clean(piece))

    works.crate.save()  # after this nothing is remembered from another test (tests/remembered.py)
    few = one_cleaning()
    scope, most = {"locomotive": works.locomotive}, {name: number for name, (_, number) in READ.items()}
    for number in (1, 2):
        filled(works, number)
        assert {name: questions(lambda read=read: read(scope)) for name, (read, _) in READ.items()} == most
    assert one_cleaning() == few
