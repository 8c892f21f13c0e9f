"""How a piece enters the register."""

from datetime import timedelta

import pytest
from django.utils import timezone

from parts.actions.tags import unused
from parts.domain.tagcodes import grouped
from parts.domain.words import State
from parts.entering.views import strip
from parts.models import Component, Tag
from tests.as_shown import text_of
from tests.pictures import a_photo, not_a_photo
from tests.tables import for_each


@pytest.fixture
def signed_in(client, works):
    client.force_login(works.people.volunteer)
    return client


def test_a_piece_comes_off_with_the_tag_that_was_scanned(signed_in, works):
    place, code = works.plain_place(side="LH"), unused(1)[0].code
    assert f'value="{code}"' in text_of(signed_in.get(f"/strip/?position={place.pk}&code={code}"))
    entered = {"name": "horn guide", "code": code, "location": works.crate.path, "marks": "4 L", "quantity": 1}
    response = signed_in.post(f"/strip/?position={place.pk}", entered, follow=True)
    piece = Tag.objects.get(code=code).component
    assert (piece.state, piece.place, piece.marks, piece.location) == (State.STRIPPED, place, "4 L", works.crate)
    assert "Entered, and tagged. Next: take a photo of it." in text_of(response)


def test_a_tag_that_was_only_issued_is_not_said_to_hang_on_it(signed_in, works):
    place = works.plain_place()
    response = signed_in.post(f"/strip/?position={place.pk}", {"name": "horn guide", "quantity": 1}, follow=True)
    code = grouped(Component.objects.get(place=place).tags.current_code())
    told = f"Entered. Its tag, {code}, is still to be printed and tied on. Next: take a photo of it."
    assert told in text_of(response)


def test_a_mistyped_word_still_finds_its_place(signed_in, works):
    place = works.plain_place(name="horn guide")
    page = text_of(signed_in.get("/strip/?q=hron+guide"))
    assert "Nothing is called exactly “hron guide”. Nearest: <b>horn guide</b>" in page
    assert f"position={place.pk}" in page
    assert "No place with room fits these words." in text_of(signed_in.get("/strip/?q=boggart"))


def test_the_next_one_starts_with_the_same_crate_and_subassembly(signed_in, works):
    first, second = works.plain_place(), works.plain_place()
    signed_in.post(f"/strip/?position={first.pk}", {"name": "one", "location": works.crate.name, "quantity": 1})
    assert f'value="{works.crate.path}"' in text_of(signed_in.get(f"/strip/?position={second.pk}"))
    assert signed_in.get("/strip/").context["subassembly"] == works.frames


def test_while_stripping_a_new_tag_opens_the_places_of_the_same_subassembly_for_some_hours(signed_in, works):
    first, second = (tag.code for tag in unused(2))
    assert signed_in.get(f"/t/{first}").status_code == 200
    place = works.plain_place()
    signed_in.post(f"/strip/?position={place.pk}", {"name": "one", "code": first, "quantity": 1})
    onward = signed_in.get(f"/t/{second}")
    assert onward.url == f"/strip/?code={second}"
    page = signed_in.get(onward.url)
    assert page.context["subassembly"] == works.frames
    assert f"/t/{second}/tie" in text_of(page)
    session = signed_in.session
    session["stripping since"] = (timezone.now() - timedelta(hours=5)).isoformat()
    session.save()
    assert signed_in.get(f"/t/{second}").status_code == 200


def test_a_photo_comes_with_it_and_one_that_is_none_keeps_nobody_from_entering_it(signed_in, works):
    places = works.plain_place(), works.plain_place()
    for place, photo in zip(places, (a_photo(), not_a_photo()), strict=True):
        entered = {"name": "horn guide", "quantity": 1, "photo": photo}
        page = text_of(signed_in.post(f"/strip/?position={place.pk}", entered, follow=True))
        piece = place.pieces.get()
        assert piece.photos.count() == ("Its photo is kept." in page) == (photo.name == "axlebox.jpg")
    assert "Next: take a photo of it." in page


def test_only_places_with_room_are_offered(signed_in, works):
    full, free = works.plain_place(), works.plain_place()
    works.piece(place=full)
    offered = signed_in.get("/strip/", {"subassembly": works.frames.pk}).context["places"]
    assert (full in offered, free in offered) == (False, True)


def test_where_a_piece_is_gone_nothing_is_offered_to_come_off_but_it_can_still_be_found(signed_in, works):
    gone, there = works.plain_place(), works.plain_place()
    works.withdraw(works.piece(State.CLEANED, place=gone))
    offered = signed_in.get("/strip/", {"subassembly": works.frames.pk})
    assert (gone in offered.context["places"], there in offered.context["places"]) == (False, True)
    assert offered.context["empty"] == [gone]
    assert "Empty, as far as the register knows (1)" in text_of(offered)


def test_where_more_are_found_than_a_page_offers_the_empty_ones_come_last(signed_in, works, monkeypatch):
    monkeypatch.setattr(strip, "OFFERED", 1)
    works.withdraw(works.piece(State.CLEANED, place=works.plain_place(name="ashpan door")))
    there = works.plain_place(name="blower ring")
    offered = signed_in.get("/strip/", {"subassembly": works.frames.pk})
    assert offered.context["places"] == [there]
    assert "There are more." in text_of(offered)


def test_the_handing_narrows_the_places(signed_in, works):
    left, right = works.place(name="link", side="LH"), works.place(name="link", side="RH")
    offered = signed_in.get("/strip/", {"q": "LINK", "side": "RH"}).context["places"]
    assert (left in offered, right in offered) == (False, True)


def test_a_place_that_is_filled_refuses_a_second_piece(signed_in, works):
    place = works.plain_place()
    works.piece(place=place)
    response = signed_in.post(f"/strip/?position={place.pk}", {"name": "another", "quantity": 1})
    assert response.status_code == 422
    assert "1 of 1 are filled already." in text_of(response)
    assert place.pieces.count() == 1


def test_a_second_hand_piece_enters_without_a_place(signed_in, works):
    entered = {
        "name": "injector",
        "quantity": 1,
        "origin": "another locomotive",
        "owner": "A. Fernside",
        "locomotive": "",
    }
    assert signed_in.post("/strip/?loose=1", entered).status_code == 302
    piece = Component.objects.get(name="injector")
    assert (piece.state, piece.place, piece.came_off, piece.owner) == (State.STRIPPED, None, None, "A. Fernside")


@for_each("quantity", ["0", "-4", "x", "1e9", "99999999999999999999", ""])
def test_a_number_that_is_none_is_refused(signed_in, works, quantity):
    place = works.plain_place(quantity=4)
    response = signed_in.post(f"/strip/?position={place.pk}", {"name": "bolt", "quantity": quantity})
    assert response.status_code == 422
    assert not place.pieces.exists()


@for_each("number", ["0", "x", "9" * 30, "-1", "²"])
def test_a_place_that_is_none_is_not_there(signed_in, number):
    assert signed_in.get("/strip/", {"position": number}).status_code == 404


def test_a_reader_strips_nothing(client, works):
    client.force_login(works.people.trustee)
    assert client.get("/strip/").status_code == 403
    assert client.post(f"/strip/?position={works.plain_place().pk}", {"name": "x"}).status_code == 403


def test_a_stranger_signs_in_first(client, db):
    assert client.get("/strip/?code=7K3M9QZ2").url == "/sign-in/?next=/strip/%3Fcode%3D7K3M9QZ2"


def test_a_new_piece_is_begun(client, works):
    place = works.plain_place()
    client.force_login(works.people.manager)
    assert client.get(f"/p/{place.pk}/new-piece").status_code == 200
    response = client.post(f"/p/{place.pk}/new-piece", {"name": "new guide", "cast_number": "C 77", "quantity": 1})
    piece = Component.objects.get(name="new guide")
    assert (response.status_code, piece.state, piece.cast_number) == (302, State.IN_THE_MAKING, "C 77")
    twice = client.post(f"/p/{place.pk}/new-piece", {"name": "new guide", "quantity": 1})
    assert (twice.status_code, "in the making" in text_of(twice)) == (422, True)


def test_a_volunteer_begins_nothing(signed_in, works):
    assert signed_in.get(f"/p/{works.plain_place().pk}/new-piece").status_code == 403
