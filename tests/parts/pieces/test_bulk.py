"""Many pieces at once: ticked in a list, then moved, marked cleaned, or their tags printed; each by itself."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.models import Event
from parts.actions.clean import METHODS
from parts.domain.cautions import caution_of_cleaning
from parts.domain.plain import capital
from parts.domain.states import piece_actions
from parts.domain.words import State
from parts.stores.writers import move
from tests.as_shown import text_of
from tests.factories import add_location, fresh


@pytest.fixture
def nell(client, works):
    client.force_login(works.people.storekeeper)
    return client


@pytest.fixture
def rack(works):
    return add_location(works.people.storekeeper, "Rack B", "rack")


def ticks(*pieces) -> dict:
    return {f"piece-{number}": f"{piece.pk}.{piece.last_event}" for number, piece in enumerate(pieces, 1)}


def test_what_lies_in_a_crate_is_ticked_and_moved(nell, works, rack):
    pieces = [works.piece(), works.piece(), works.piece()]
    at = f"/pieces/bulk/?at={works.crate.pk}"
    page = text_of(nell.get(at))
    for piece in pieces:
        assert f'value="{piece.pk}.{piece.last_event}"' in page
    asked = text_of(nell.post(at, ticks(*pieces[:2]) | {"do": "move"}))
    assert "Where do they go?" in asked
    assert f"2 pieces: {capital(pieces[0].place.words)}, {capital(pieces[1].place.words)}" in asked
    done = nell.post(at, ticks(*pieces[:2]) | {"do": "move", "to": "Rack B"}, follow=True)
    assert done.redirect_chain == [(works.crate.get_absolute_url(), 302)]
    links = [f'<a href="/t/{(code := one.tags.current_code())}">{capital(one.called)} {code}</a>' for one in pieces[:2]]
    said = ", ".join(links)
    assert f"{said} now lie in Rack B." in done.content.decode()
    assert [fresh(piece).location for piece in pieces] == [rack, rack, works.crate]


def test_any_page_may_send_many_piece_values(nell, works, rack):
    pieces = [works.piece(), works.piece()]
    sent = {"piece": [str(piece.pk) for piece in pieces], "do": "move", "place": rack.pk, "back": "/find/?q=horn"}
    assert nell.post("/pieces/bulk/", sent).url == "/find/?q=horn"
    assert [fresh(piece).location for piece in pieces] == [rack, rack]
    away = nell.post("/pieces/bulk/?q=horn", sent | {"back": "https://elsewhere.example/"})
    assert away.url == "/find/?q=horn"


def test_those_that_could_not_are_named_with_why_and_the_rest_is_done(nell, works, rack):
    good, fitted, touched = works.piece(), works.piece(State.REFITTED), works.piece()
    entered = ticks(good, fitted, touched) | {"do": "move", "to": "Rack B"}
    move(touched, add_location(works.people.storekeeper, "Bench 3", "bench"), works.people.volunteer)
    response = nell.post(f"/pieces/bulk/?at={works.crate.pk}", entered)
    page = text_of(response)
    assert response.status_code == 409
    assert f"{capital(good.called)} {good.tags.current_code()}</a> now lies in Rack B." in page
    assert "is refitted, so it lies where it is fitted" in page
    assert "volunteer recorded “move” on it" in page.replace("Volunteer", "volunteer")
    assert fresh(good).location == rack
    assert f'value="{good.pk}.' not in page
    assert f'value="{touched.pk}.{fresh(touched).last_event}"' in page  # may be sent again, knowingly


def test_many_are_marked_cleaned_and_what_is_cleaned_already_stays_so(nell, works):
    pieces = [works.piece(State.STRIPPED), works.piece(State.STRIPPED), works.piece(State.CLEANED)]
    at = f"/pieces/bulk/?at={works.crate.pk}"
    assert "asbestos" in text_of(nell.post(at, ticks(*pieces) | {"do": "clean"}))
    assert nell.post(at, ticks(*pieces) | {"do": "clean", "method": ""}).status_code == 422
    done = nell.post(at, ticks(*pieces) | {"do": "clean", "method": "hot wash"}, follow=True)
    assert f'<a href="/t/{pieces[0].tags.current_code()}">' in done.content.decode()
    assert {fresh(piece).state for piece in pieces} == {State.CLEANED}
    written = Event.objects.filter(action="clean", data__method="hot wash", actor=works.people.storekeeper)
    assert written.count() == 2


MAIN = re.compile(r'class="button button-main" type="submit" name="do" value="(\w+)"')


def test_whoever_comes_to_clean_has_that_as_the_main_button(nell, works):
    works.piece(State.STRIPPED)
    for asked, first in (("need=clean", "clean"), ("state=stripped", "move")):
        assert MAIN.findall(nell.get(f"/pieces/bulk/?{asked}").content.decode()) == [first]


def test_the_caution_of_each_way_stands_at_its_button(nell, works):
    asked = nell.post("/pieces/bulk/?need=clean", ticks(works.piece(State.STRIPPED)) | {"do": "clean"})
    page = text_of(asked)
    for method in METHODS:
        number = re.search(f'value="{method}" aria-describedby="caution-(\\d)"', page)[1]
        assert f'id="caution-{number}">{caution_of_cleaning(method)}</p><button' in page


def test_more_than_a_few_are_counted_in_what_is_said(nell, works, rack):
    pieces = [works.piece() for _ in range(4)]
    at = f"/pieces/bulk/?at={works.crate.pk}"
    assert "4 pieces now lie in Rack B." in text_of(
        nell.post(at, ticks(*pieces) | {"do": "move", "to": "Rack B"}, follow=True)
    )


def test_a_phone_is_told_the_names_as_words(nell, works, rack):
    piece = works.piece()
    kept = {"HTTP_X_COTTER_KEY": "0" * 32, "HTTP_X_COTTER_PERSON": str(works.people.storekeeper.pk)}
    answer = nell.post(f"/pieces/bulk/?at={works.crate.pk}", ticks(piece) | {"do": "move", "to": "Rack B"}, **kept)
    assert answer.json()["said"] == f"{capital(piece.called)} {piece.tags.current_code()} now lies in Rack B."


def test_their_tags_are_offered_for_printing(nell, works):
    pieces = [works.piece(), works.piece()]
    response = nell.post("/pieces/bulk/", ticks(*pieces) | {"do": "tags"})
    assert response.url.startswith("/labels/?tags=")
    assert all(piece.tags.current_code() in response.url for piece in pieces)


def test_the_pieces_of_a_subassembly_and_those_found_are_offered(nell, works):
    piece = works.piece(place=works.plain_place(name="regulator handle"))
    for asked in (f"sub={works.frames.pk}", "q=regulator+handle", f"in={works.locomotive.slug}"):
        assert f'value="{piece.pk}.' in text_of(nell.get(f"/pieces/bulk/?{asked}"))
    assert nell.get("/pieces/bulk/?at=999999").status_code == 404


def test_nothing_ticked_nothing_asked_or_a_role_that_may_not(client, nell, works):
    piece = works.piece()
    at = f"/pieces/bulk/?at={works.crate.pk}"
    assert "No piece was ticked" in text_of(nell.post(at, {"do": "move"}))
    assert nell.post(at, ticks(piece)).status_code == 422
    client.force_login(works.people.trustee)
    assert nell.post(at, ticks(piece) | {"do": "move", "to": "Rack B"}).status_code == 403
    client.logout()
    assert client.get(at).status_code == 302


def test_a_long_list_asks_the_database_no_more_than_a_short_one(nell, works):
    at = f"/pieces/bulk/?at={works.crate.pk}"
    works.piece()
    nell.get(at)  # what is read once in a run is read by now
    few = queries(nell, at)
    for _ in range(5):
        works.piece()
    assert queries(nell, at) == few


def queries(client, address) -> int:
    with CaptureQueriesContext(connection) as asked:
        client.get(address)
    return len(asked)


def test_whoever_only_reads_is_offered_no_ticks_and_not_led_to_them(client, works):
    works.piece()
    client.force_login(works.people.trustee)
    subassembly = works.place().subassembly
    page = text_of(client.get(f"/pieces/bulk/?sub={subassembly.pk}"))
    assert "Your roles only read." in page
    assert "checkbox" not in page
    for leading in (f"/l/{works.locomotive.slug}/s/{subassembly.code}/", f"/find/?sub={subassembly.code}"):
        assert "/pieces/bulk/" not in text_of(client.get(leading))


def test_what_the_catalogue_has_for_many_is_offered_to_whom_it_allows(nell, works):
    page = text_of(nell.get(f"/pieces/bulk/?state={works.piece(State.STRIPPED).state}"))
    offered = [action for action in piece_actions() if action.for_many]
    assert offered
    for action in piece_actions():
        assert (f'name="do" value="{action.word}"' in page) == (action in offered), action.word


def test_what_keeps_all_of_them_back_is_said_once(nell, works):
    pieces = [works.piece(State.REFITTED), works.piece(State.REFITTED)]
    at = f"/pieces/bulk/?at={works.crate.pk}"
    page = text_of(nell.post(at, ticks(*pieces) | {"do": "clean", "method": "hot wash"}))
    assert page.count("Mark it cleaned") <= 1
    assert page.count("is refitted") == 1
