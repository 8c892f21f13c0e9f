"""Describing a piece, choosing its place, splitting a lot, and the page of everything else."""

from decimal import Decimal

import pytest

from parts.domain.words import State
from parts.entering.writers.pieces import choose_place
from tests.as_shown import text_of
from tests.factories import fresh
from tests.tables import for_each


def at(piece, ending) -> str:
    return f"/t/{piece.tags.current_code()}/{ending}"


DESCRIBED = {"name": "horn guide", "origin": "original", "side": "LH", "marks": "4 over 7"}


def test_what_is_seen_is_written_down(client, works):
    piece = works.piece()
    client.force_login(works.people.volunteer)
    assert client.get(at(piece, "describe")).status_code == 200
    response = client.post(at(piece, "describe"), DESCRIBED | {"seen": piece.last_event}, follow=True)
    assert (fresh(piece).marks, piece.side, piece.origin) == ("4 over 7", "LH", "original")
    assert "Written down: its own side now LH, marks now 4 over 7, origin from unknown to original." in text_of(
        response
    )


def test_what_it_weighs_is_written_with_its_unit_and_kept_exactly(client, works):
    """The pound is 0.45359237 kg exactly (1959), the hundredweight 112 lb (Weights and Measures Act 1985)."""
    piece = works.piece()
    client.force_login(works.people.volunteer)
    for typed, kg in (("2 cwt 1 qr 0.5 lb", "114.532073425"), ("12.5 kg", "12.5"), ("", None)):
        client.post(at(piece, "describe"), DESCRIBED | {"mass": typed})
        assert fresh(piece).mass_kg == (Decimal(kg) if kg else None)
    refused = [client.post(at(piece, "describe"), DESCRIBED | {"mass": m}).status_code for m in ("12", "0 kg", "900 t")]
    assert refused == [422] * 3


def test_a_late_description_is_told_and_kept_on_the_form(client, works):
    piece = works.piece()
    seen = piece.last_event
    works.clean(piece)
    client.force_login(works.people.volunteer)
    response = client.post(at(piece, "describe"), DESCRIBED | {"seen": seen})
    assert response.status_code == 409
    assert "4 over 7" in text_of(response)
    assert fresh(piece).marks == ""


@for_each("wrong", [{"name": ""}, {"origin": "theirs"}, {"side": "up"}, {"marks": "x" * 900}])
def test_a_wrong_word_is_refused_by_its_field(client, works, wrong):
    piece = works.piece()
    client.force_login(works.people.volunteer)
    response = client.post(at(piece, "describe"), DESCRIBED | wrong)
    assert response.status_code == 422
    assert f'href="#id_{next(iter(wrong))}"' in text_of(response)
    assert fresh(piece).marks == ""


@pytest.mark.engine
def test_a_lot_is_split(client, works):
    piece = works.piece(place=works.plain_place(quantity=12))
    client.force_login(works.people.storekeeper)
    assert "The lot counts 12." in text_of(client.get(at(piece, "split")))
    response = client.post(at(piece, "split"), {"quantity": 5, "seen": piece.last_event})
    assert response.status_code == 302
    assert sorted(c.quantity for c in piece.place.pieces.all()) == [5, 7]


@for_each("quantity", ["12", "0", "", "half"])
def test_what_cannot_be_split_off_is_refused(client, works, quantity):
    piece = works.piece(place=works.plain_place(quantity=12))
    client.force_login(works.people.storekeeper)
    assert client.post(at(piece, "split"), {"quantity": quantity}).status_code == 422
    assert fresh(piece).quantity == 12


def test_the_engineer_chooses_a_place(client, works):
    piece, place = works.piece(), works.plain_place(name="link bracket")
    choose_place(piece, None, works.people.engineer)
    client.force_login(works.people.engineer)
    assert place in client.get(at(piece, "place"), {"q": "link"}).context["places"]
    entered = {"position": place.pk, "what": "reserve", "seen": fresh(piece).last_event}
    assert client.post(at(piece, "place"), entered).status_code == 302
    assert fresh(piece).place == place


def test_a_place_is_only_noted_as_possible(client, works):
    piece, place = works.piece(), works.plain_place()
    client.force_login(works.people.engineer)
    client.post(at(piece, "place"), {"position": place.pk, "what": "earmark"})
    assert (fresh(piece).place == place, piece.earmarks.filter(position=place).exists()) == (False, True)


@for_each("number", ["", "x", "0", "9" * 30, "²"])
def test_a_place_that_is_none_is_refused(client, works, number):
    client.force_login(works.people.engineer)
    assert client.post(at(works.piece(), "place"), {"position": number}).status_code == 422


def test_a_piece_past_cleaned_keeps_its_place(client, works):
    piece = works.piece(State.ACCEPTED)
    client.force_login(works.people.engineer)
    response = client.post(at(piece, "place"), {"what": "give up"})
    assert (response.status_code, fresh(piece).place is None) == (422, False)


@for_each("ending", ["describe", "split", "place"])
def test_a_reader_writes_nothing(client, works, ending):
    client.force_login(works.people.trustee)
    assert client.get(at(works.piece(), ending)).status_code == 403


@for_each("ending", ["describe", "split", "place"])
def test_a_stranger_signs_in_first(client, works, ending):
    assert client.get(at(works.piece(), ending)).status_code == 302


def test_more_offers_what_the_roles_allow(client, works):
    for person, offered, withheld in (
        (works.people.manager, "A new locomotive", "A piece comes off"),
        (works.people.volunteer, "A piece comes off", "People and their roles"),
    ):
        client.force_login(person)
        text = text_of(client.get("/more/"))
        assert offered in text
        assert withheld not in text
