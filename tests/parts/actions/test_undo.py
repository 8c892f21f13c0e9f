"""Undo: who did it puts back what was done by mistake, for ten minutes, while nothing rests on it."""

from datetime import timedelta

import pytest

from core.domain.refusals import Refused
from core.log.writing import written
from core.models import Event
from inspections.models import Examination
from parts.actions import undo as undoing
from parts.actions import writing
from parts.actions.perform import undoable_acts
from parts.actions.refresh import out_of_date
from parts.actions.tags import unused
from parts.actions.undo import undo
from parts.consumables import writers as consumables
from parts.domain.rows import ActionInput
from parts.domain.stocktaking import mark_of
from parts.domain.words import State
from parts.entering.writers.pieces import describe
from parts.holds import writers as holds
from parts.models import Component, HoldPoint, Movement, Tag
from parts.pieces.writers.stripping import strip_from_place
from parts.stock_take import writers as counting
from parts.stores.writers import keep_here, move, move_location, retire_location
from parts.tags.writers import tie
from tests.factories import add_location, events_of, fresh
from tests.parts.actions.standard import everything, refused

HISTORY = ("Event", "EventSubject", "Movement")
"""What only grows."""


def rows() -> dict:
    """Everything but what only grows, and which event of a piece came last."""
    found = {name: table for name, table in everything().items() if name not in HISTORY}
    for piece in found["Component"]:
        piece.pop("last_event")
    return found


def done(act) -> list[int]:
    """What may be undone of what this writes."""
    with written() as events:
        act()
    return undoable_acts(events)


def undo_all(numbers, person):
    for number in reversed(numbers):
        undo(number, person)


def late(event, minutes: int, monkeypatch):
    monkeypatch.setattr(undoing.timezone, "now", lambda: event.at + timedelta(minutes=minutes))


@pytest.fixture
def another(works):
    return add_location(works.people.storekeeper, "Crate 77", "crate")


def test_cleaning_is_undone_and_both_stay_in_the_history(works):
    piece, before = works.piece(), rows()
    event = works.do("clean", piece, works.people.volunteer, method="steam")
    undo(event.pk, works.people.volunteer)
    assert rows() == before
    assert [e.action for e in events_of(piece).order_by("pk")][-2:] == ["clean", "undo"]
    told = events_of(piece).latest("pk")
    assert (told.from_state, told.to_state) == ("cleaned", "stripped")
    assert (told.actor, told.data) == (works.people.volunteer, {"undone": event.pk, "word": "clean"})
    assert fresh(piece).last_event == told.pk
    assert out_of_date({"locomotive": works.locomotive}) == []


@pytest.mark.parametrize(
    ("word", "state", "who", "entered"),
    [
        ("send back", State.ACCEPTED, "fitter", {"to": "stripped", "reason": "a burr was seen on it"}),
        ("offer up", State.ACCEPTED, "volunteer", {}),
        ("take off", State.REFITTED, "fitter", {"reason": "it was the wrong side"}),
        ("strip", State.REFITTED, "volunteer", {}),
        ("strip", State.IN_PLACE, "volunteer", {}),
        ("refit", State.ACCEPTED, "fitter", {}),
        ("refit", State.RENEWED, "fitter", {}),
    ],
)
def test_a_change_of_state_is_undone_whole(works, word, state, who, entered):
    piece, person = works.piece(state), getattr(works.people, who)
    before = rows()
    event = works.do(word, piece, person, **entered)
    assert rows() != before
    undo(event.pk, person)
    assert rows() == before
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_what_was_examined_before_counts_again_once_a_sending_back_is_undone(works):
    piece = works.examined()
    counted = (piece.place.standing, piece.place.need)
    event = works.do("send back", piece, works.people.fitter, to="stripped", reason="a burr was seen on it")
    assert (fresh(piece.place).standing, piece.place.need) != counted
    undo(event.pk, works.people.fitter)
    assert (fresh(piece.place).standing, piece.place.need) == counted
    works.accept(fresh(piece))


def test_stripping_is_undone_with_what_was_written_down_in_the_same_step(works):
    piece, person = works.piece(State.REFITTED), works.people.volunteer
    before = rows()
    (act,) = done(lambda: strip_from_place(piece, person, ActionInput(), location=works.crate, marks="4 L"))
    assert fresh(piece).marks == "4 L"
    undo(act, person)
    assert rows() == before
    assert Movement.objects.filter(component=piece).latest("event").event.action == "undo"


def test_breaking_down_is_undone_for_every_piece_inside_that_had_its_tag(works):
    outer, inner = works.a_broken_down_piece()
    works.examine(inner)
    works.accept(inner)
    works.refit(inner)
    before = rows()
    event = works.do("break down", outer, works.people.fitter)
    assert fresh(inner).state == State.STRIPPED
    undo(event.pk, works.people.fitter)
    assert rows() == before


def test_breaking_down_lasts_where_pieces_entered_the_register_by_it(works):
    outer = works.piece(place=works.built_up("brass"))
    assert done(lambda: works.do("break down", outer, works.people.fitter)) == []


def test_a_move_is_undone_with_the_normal_place_that_it_made(works, another):
    piece, person = works.piece(), works.people.volunteer
    Component.objects.filter(pk=piece.pk).update(normal_location=None)
    before = rows()
    (act,) = done(lambda: move(piece, another, person))
    assert fresh(piece).normal_location == another
    undo(act, person)
    assert rows() == before
    assert Movement.objects.filter(component=piece).latest("event").went_to == works.crate


def test_a_piece_called_back_from_a_firm_by_mistake_is_away_since_the_day_it_left(works, another):
    piece, person, firm = works.piece(), works.people.storekeeper, works.firm()
    move(piece, firm, person)
    Component.objects.filter(pk=piece.pk).update(away_since="2026-01-05", promised_back="2099-02-03")
    before = rows()
    (act,) = done(lambda: move(fresh(piece), another, person))
    undo(act, person)
    assert rows() == before
    assert str(Movement.objects.filter(component=piece).latest("event").promised_back) == "2099-02-03"


def test_a_normal_place_is_undone(works, another):
    piece, person = works.piece(), works.people.volunteer
    move(piece, another, person)
    before = rows()
    undo_all(done(lambda: keep_here(fresh(piece), person)), person)
    assert rows() == before


def test_a_description_is_undone(works):
    piece, person = works.piece(), works.people.volunteer
    before = rows()
    undo_all(done(lambda: describe(piece, person, marks="17", notes="bent", mass_kg=3)), person)
    assert rows() == before


def test_a_tag_that_was_tied_is_free_again_and_the_old_one_hangs_on_the_piece(works):
    piece, person, (tag,) = works.piece(), works.people.volunteer, unused(1)
    before = rows()
    undo_all(done(lambda: tie(tag.code, piece, person)), person)
    assert rows() == before
    tie(tag.code, works.piece(), person)


def test_a_tag_of_a_crate_is_free_again(works, another):
    person, (one, two) = works.people.volunteer, unused(2)
    first = done(lambda: tie(one.code, another, person))
    second = done(lambda: tie(two.code, another, person))
    with pytest.raises(Refused, match="instead of"):
        undo(first[0], person)
    undo_all(second, person)
    assert Tag.objects.get(location=another, current=True) == one
    undo_all(first, person)
    assert not Tag.objects.filter(location=another).exists()


@pytest.mark.parametrize("writer", [consumables.take, consumables.count, consumables.put_in_stock])
def test_a_count_on_the_shelf_is_undone_once(works, writer):
    person = works.people.storekeeper
    joints = consumables.add(person, name="joint ring", in_stock=20, size="2 in", unit="", least=0)
    (act,) = done(lambda: writer(joints, person, 3))
    undo(act, person)
    joints.refresh_from_db()
    assert joints.in_stock == 20
    with pytest.raises(Refused, match="undone already"):
        undo(act, person)
    (act,) = done(lambda: consumables.take(joints, person, 2, seen=joints.last_event))
    consumables.take(joints, person, 1)
    with pytest.raises(Refused, match="recorded"):
        undo(act, person)


@pytest.mark.engine
def test_a_release_that_lapsed_by_it_counts_again(works):
    piece, engineer, fitter = works.piece(State.REFITTED), works.people.engineer, works.people.fitter
    hold = holds.add_hold(
        works.locomotive.open_overhaul(), engineer, name="steam test", stops=["clean"], body="the owner",
        component=piece, lapses=True,
    )  # fmt: skip
    holds.release(hold, engineer, reference="letter of 3 May", filed="boiler file")
    before = rows()
    (act,) = done(lambda: works.do("take off", piece, fitter, reason="it was the wrong side"))
    assert not HoldPoint.objects.get().released_on
    undo(act, fitter)
    assert rows() == before


# --- who may not, and when not any more


def test_nobody_undoes_what_somebody_else_did(works):
    event = works.do("clean", works.piece(), works.people.volunteer, method="steam")
    with refused("not-yours"):
        undo(event.pk, works.people.engineer)


def test_a_role_that_does_no_work_undoes_nothing(works):
    event = works.do("clean", works.piece(), works.people.volunteer, method="steam")
    with refused("role"):
        undo(event.pk, works.people.trustee)


def test_it_is_undone_once(works):
    event = works.do("clean", works.piece(), works.people.volunteer, method="steam")
    undo(event.pk, works.people.volunteer)
    with refused("undone"):
        undo(event.pk, works.people.volunteer)


@pytest.mark.parametrize(("minutes", "may"), [(10, True), (11, False)])
def test_it_is_undone_for_ten_minutes(works, monkeypatch, minutes, may):
    event = works.do("clean", works.piece(), works.people.volunteer, method="steam")
    late(event, minutes, monkeypatch)
    if may:
        undo(event.pk, works.people.volunteer)
        return
    with refused("late"):
        undo(event.pk, works.people.volunteer)


def test_what_is_signed_is_never_undone(works):
    piece, engineer = works.examined(), works.people.engineer
    works.accept(piece)
    with refused("lasts"):
        undo(fresh(piece).last_event, engineer)
    assert done(lambda: works.withdraw(works.piece())) == []


def test_a_refit_that_took_two_names_is_never_undone(works):
    piece = works.piece(State.ACCEPTED, place=works.critical_place())
    assert done(lambda: works.refit(piece)) == []
    with refused("lasts"):
        undo(fresh(piece).last_event, works.people.fitter)


def test_an_undoing_is_not_undone(works):
    event = works.do("clean", works.piece(), works.people.volunteer, method="steam")
    with written() as events:
        undo(event.pk, works.people.volunteer)
    assert undoable_acts(events) == []


def test_a_piece_that_entered_the_register_by_it_stays(works):
    with written() as events:
        works.piece()
    assert undoable_acts(events) == []


def _signed(works, piece, crate):
    works.look_at(piece)
    assert Examination.objects.filter(component=piece).exists()


def _moved(works, piece, crate):
    move(piece, crate, works.people.storekeeper)


def _carried(works, piece, crate):
    move_location(works.crate, add_location(works.people.storekeeper, "Rack 7"), works.people.storekeeper)


def _printed(works, piece, crate):
    writing.log(works.people.storekeeper, "print labels", data={"tags": [piece.tags.current_code()]})


def _stopped(works, piece, crate):
    holds.stop(piece, works.people.volunteer, why="the sling looks worn through")


def _counted(works, piece, crate):
    stocktake = counting.begin(works.crate, works.people.storekeeper)
    counting.see(stocktake, piece, works.people.storekeeper)
    lines = counting.lines_of(stocktake)
    mark = mark_of((line.piece.pk, line.outcome) for line in lines)
    counting.confirm(stocktake, works.people.storekeeper, mark=mark)


def _released(works, piece, crate):
    engineer, overhaul = works.people.engineer, works.locomotive.open_overhaul()
    entered = {"name": "frames true", "stops": ["refit"], "body": "the owner"}
    hold = holds.add_hold(overhaul, engineer, subassembly=works.frames, **entered)
    holds.release(hold, engineer, reference="letter of 3 May", filed="boiler file")


@pytest.mark.parametrize("then", [_released, _signed, _moved, _carried, _printed, _stopped, _counted])
def test_it_stays_once_something_rests_on_it(works, another, then):
    piece = works.piece()
    event = works.do("clean", piece, works.people.volunteer, method="steam")
    then(works, fresh(piece), another)
    with refused("followed"):
        undo(event.pk, works.people.volunteer)


def test_a_photo_taken_since_keeps_nothing_from_being_undone(works):
    piece = works.piece()
    event = works.do("clean", piece, works.people.volunteer, method="steam")
    writing.log(works.people.volunteer, "photograph", component=piece, touches=False)
    undo(event.pk, works.people.volunteer)
    assert fresh(piece).state == State.STRIPPED


def test_a_piece_does_not_go_back_into_a_crate_that_is_broken_up(works, another):
    piece, person = works.piece(location=another), works.people.volunteer
    (act,) = done(lambda: move(piece, works.crate, person))
    retire_location(another, works.people.storekeeper)
    with refused("followed"):
        undo(act, person)


def test_an_event_keeps_what_was_written_and_leaves_out_what_was_blank(works):
    event = works.do("take off", works.piece(State.REFITTED), works.people.fitter, reason="it was the wrong side")
    kept = Event.objects.get(pk=event.pk).data["before"]
    assert (kept["state"], kept["before_refit"], kept["name"]) == ("refitted", "accepted", "horn guide")
    assert "notes" not in kept
