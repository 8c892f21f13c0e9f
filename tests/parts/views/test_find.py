"""One box to find anything."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from parts.domain.words import State


@pytest.fixture
def signed_in(client, works):
    client.force_login(works.people.trustee)
    return client


def found(client, **asked):
    response = client.get("/find/", asked)
    assert response.status_code == 200
    return response.context["found"]


@pytest.mark.parametrize("words", ["SLIDE", "gw-7", "rh slide", "  77   bar ", "crate of", "drg-12"])
def test_a_piece_is_found_by_any_words_about_it(signed_in, works, words):
    place = works.plain_place(name="slide bar", side="RH", drawing="DRG-12")
    piece = works.piece(place=place, marks="GW-7", works_number="B77")
    works.piece(place=works.plain_place(name="brake block"), location=None)
    assert piece in found(signed_in, q=words).pieces


def test_every_word_must_stand_somewhere(signed_in, works):
    works.piece(place=works.plain_place(name="slide bar", side="RH"))
    assert found(signed_in, q="slide lh").pieces == []


def test_a_whole_tag_opens_the_piece(signed_in, works):
    code = works.piece().tags.get().code
    assert signed_in.get("/find/", {"q": f"{code[:4]} {code[4:]}".lower()}).url == f"/t/{code}"


def test_the_first_characters_of_a_tag_find_it(signed_in, works):
    piece = works.piece()
    assert piece in found(signed_in, q=piece.tags.get().code[:6].lower()).pieces


def test_empty_places_and_crates_are_found_too(signed_in, works):
    place = works.plain_place(name="sand valve")
    assert place in found(signed_in, q="sand").places
    assert works.crate in found(signed_in, q=works.crate.name).locations


def test_pieces_of_one_state_are_listed(signed_in, works):
    cleaned, stripped = works.piece(State.CLEANED), works.piece(State.STRIPPED)
    pieces = found(signed_in, state="cleaned").pieces
    assert (cleaned in pieces, stripped in pieces) == (True, False)


def test_a_hundred_pieces_come_in_pages(signed_in, works):
    type(works.piece()).objects.bulk_create(
        type(works.piece())(name=f"washer {n:03}", since="2026-01-01", locomotive=works.locomotive) for n in range(70)
    )
    first, second = found(signed_in, q="washer"), found(signed_in, q="washer", page=2)
    assert (len(first.pieces), first.more, len(second.pieces), second.more) == (50, True, 20, False)


@pytest.mark.parametrize("junk", ["%", "_", "'; drop", "\0", "x" * 4000, " ".join("abcdefghij")])
def test_junk_finds_nothing_and_breaks_nothing(signed_in, works, junk):
    assert signed_in.get("/find/", {"q": junk, "page": junk, "state": junk}).status_code == 200


def test_a_per_cent_sign_is_only_a_sign(signed_in, works):
    works.piece()
    assert found(signed_in, q="%").pieces == []


def test_a_stranger_signs_in_first(client, db):
    assert client.get("/find/?q=rod").status_code == 302


def test_its_queries_do_not_grow_with_the_rows(signed_in, works):
    def queries():
        with CaptureQueriesContext(connection) as caught:
            signed_in.get("/find/", {"q": "horn"})
        return len(caught)

    works.piece()
    queries()
    few = queries()
    for _ in range(8):
        works.piece()
    assert queries() == few <= 9
