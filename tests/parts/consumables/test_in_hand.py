"""What was taken from the shelf for a place, until it is used up, undone, or wanted no longer: no pin is counted twice,
and none is lost."""

import pytest
from django.urls import reverse

from core.models import Event
from parts.actions.undo import correct, undo
from parts.domain.rows import ActionInput
from parts.domain.words import State
from parts.kits import writers
from parts.mistakes.writers import strike
from parts.models import Consumable, ConsumableUse, Overhaul, Position
from parts.pieces.writers.alike import do_alike
from parts.queries.consumables import stock_row
from parts.structure.writers.merging import merge_places
from parts.structure.writers.structure import remove_position
from tests.factories import days, fresh
from tests.parts.actions.standard import refused


@pytest.fixture
def piece(works):
    return works.piece(State.ACCEPTED)


@pytest.fixture
def pins(works, piece):
    """Four wanted for the place, five on the shelf."""
    made = Consumable.objects.create(name="split pin", size="3 mm", in_stock=5, location=works.crate)
    ConsumableUse.objects.create(consumable=made, position=piece.place, quantity=4)
    return made


def a_kit(works):
    return writers.begin(works.frames, works.people.volunteer)


def refit(works, piece) -> None:
    works.do("refit", piece, works.people.fitter)


def stands_at(pins) -> tuple[int, int, int]:
    """In stock, wanted by open places, to be ordered."""
    row = stock_row(Consumable.objects.filter(pk=pins.pk).with_stock().get())
    return row.in_stock, row.wanted, row.to_order


def in_hand(pins) -> list[int]:
    return list(ConsumableUse.objects.filter(consumable=pins).values_list("in_hand", flat=True))


def last(word: str) -> int:
    return Event.objects.filter(action=word).order_by("pk").last().pk


@pytest.mark.parametrize("how", ["undo", "correct"])
def test_a_refit_that_was_a_mistake_gives_back_in_hand_what_it_used_up(client, works, piece, pins, how):
    writers.take_new(a_kit(works), pins, works.people.volunteer)
    refit(works, piece)
    assert in_hand(pins) == [0]
    assert "Used up, as its place is together: 4." in page_of(client, works, pins)
    if how == "undo":
        undo(last("refit"), works.people.fitter)
    else:
        correct(last("refit"), works.people.fitter, reason="the wrong piece was ticked")
    assert in_hand(pins) == [4]
    assert stands_at(pins) == (1, 0, 0)
    refit(works, fresh(piece))
    assert in_hand(pins) == [0]
    assert stands_at(pins) == (1, 0, 0)  # no pin left the shelf twice


def page_of(client, works, thing) -> str:
    client.force_login(works.people.volunteer)
    return client.get(thing.get_absolute_url()).content.decode()


@pytest.mark.engine
def test_what_is_in_the_locomotive_does_not_come_back_to_the_shelf_by_undoing(works, piece, pins):
    writers.take_new(a_kit(works), pins, works.people.volunteer)
    refit(works, piece)
    with refused("followed"):
        undo(last("take consumable"), works.people.volunteer)
    assert stands_at(pins) == (1, 0, 0)


def test_two_bolts_of_one_place_refitted_by_one_form_use_up_what_is_in_hand(works):
    place = works.plain_place(quantity=2)
    bolts = [works.piece(State.ACCEPTED, place=place, quantity=1) for _ in range(2)]
    pins = Consumable.objects.create(name="split pin", in_stock=2, location=works.crate)
    ConsumableUse.objects.create(consumable=pins, position=place, quantity=2)
    writers.take_new(a_kit(works), pins, works.people.volunteer)
    fitter = works.people.fitter
    do_alike("refit", bolts[0], [str(bolts[1].pk)], fitter, ActionInput(), seen=None)
    assert in_hand(pins) == [0]
    undo(last("refit") - 1, fitter)
    assert in_hand(pins) == [2]
    refit(works, fresh(bolts[0]))
    assert in_hand(pins) == [2]  # one bolt alone does not fill the place
    refit(works, fresh(bolts[1]))
    assert in_hand(pins) == [0]


@pytest.mark.parametrize("wanted", [2, 0])
def test_what_is_in_hand_beyond_what_is_wanted_counts_as_in_stock_again(client, works, piece, pins, wanted):
    writers.take_new(a_kit(works), pins, works.people.volunteer)
    client.force_login(works.people.storekeeper)
    sent = {"consumable": pins.pk, "quantity": str(wanted)}
    answer = client.post(reverse("want_consumable", args=[piece.place.pk]), sent, follow=True)
    assert f"{4 - wanted} to lay back on the shelf" in answer.content.decode()
    assert stands_at(pins) == (5 - wanted, 0, 0)
    assert in_hand(pins) == [wanted] * bool(wanted)
    assert f"Brought back to the shelf: {4 - wanted}." in page_of(client, works, pins)


def emptied(works, piece):
    works.withdraw(piece)
    return fresh(piece.place)


def test_what_is_in_hand_for_a_place_that_is_taken_away_counts_as_in_stock_again(works, piece, pins):
    writers.take_new(a_kit(works), pins, works.people.volunteer)
    remove_position(emptied(works, piece), works.people.manager)
    assert stands_at(pins) == (5, 0, 0)
    assert in_hand(pins) == [0]


def test_what_is_in_hand_for_a_place_that_is_struck_counts_as_in_stock_again(works, piece, pins):
    place = works.plain_place()
    ConsumableUse.objects.update(position=place, in_hand=4)
    Consumable.objects.update(in_stock=1)
    strike("place", place, works.people.manager, reason="entered twice by mistake")
    assert stands_at(pins) == (5, 0, 0)
    with refused("followed"):
        undo(last("bring consumable back"), works.people.manager)


@pytest.mark.engine
def test_two_places_made_one_lose_nothing_in_hand(works, piece, pins):
    double = works.plain_place()
    ConsumableUse.objects.create(consumable=pins, position=double, quantity=2, in_hand=2)
    merge_places(double, piece.place, works.people.manager)
    assert Consumable.objects.get(pk=pins.pk).in_stock == 7
    assert set(in_hand(pins)) == {0}


def test_what_is_in_hand_is_put_back_though_the_place_wants_none_or_it_is_out_of_use(client, works, piece, pins):
    kit = a_kit(works)
    writers.take_new(kit, pins, works.people.volunteer)
    Consumable.objects.update(retired=True)
    Position.objects.filter(pk=piece.place.pk).update(standing="not required", need="")
    assert "New, in hand" in page_of(client, works, kit)
    assert client.post(reverse("put_back", args=[kit.pk]), {"consumable": pins.pk}).status_code == 302
    assert stands_at(pins) == (5, 0, 0)


def test_an_earlier_overhaul_of_the_locomotive_does_not_double_what_is_wanted(works, pins):
    Overhaul.objects.create(locomotive=works.locomotive, number=9, opened=days(-900), closed=days(-800))
    assert stands_at(pins) == (5, 4, 0)
