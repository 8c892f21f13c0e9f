"""Moving one piece, or several that lie together."""

import re

import pytest

from parts.actions.tags import issue, unused
from parts.domain.words import State
from parts.stores.writers import move
from tests.as_shown import text_of
from tests.factories import add_location, fresh


@pytest.fixture
def shed(client, people):
    client.force_login(people.volunteer)
    return client


@pytest.fixture
def rack(people):
    return add_location(people.storekeeper, "Rack B", "rack")


def code_of(thing) -> str:
    return thing.tags.get(current=True).code


def way(piece) -> str:
    return f"/t/{code_of(piece)}/move"


def test_a_piece_is_moved_by_the_tag_of_a_crate(shed, works, people, rack):
    piece, tag = works.piece(), issue(rack, people.storekeeper).code
    answer = shed.post(way(piece), {"to": tag.lower(), "seen": piece.last_event}, follow=True)
    assert "Horn guide now lies in Rack B." in text_of(answer)
    assert fresh(piece).location == rack
    assert piece.movements.filter(by=people.volunteer, went_to=rack).count() == 1


def test_the_places_used_last_are_one_tap_away(shed, works, people, rack):
    move(works.piece(), rack, people.volunteer)
    text = text_of(shed.get(way(works.piece())))
    assert '<input type="hidden" name="to" value="Rack B">' in text


def test_its_usual_place_is_one_tap_away(shed, works, people, rack):
    piece = works.piece(location=None)
    move(piece, rack, people.storekeeper)
    move(piece, works.crate, people.storekeeper)
    assert "Back to its usual place: Rack B" in text_of(shed.get(way(piece)))


def test_what_is_stripped_next_is_offered_the_same_crate(shed, works, rack):
    piece = works.piece()
    shed.post(way(piece), {"to": "Rack B"})
    assert shed.session["crate"] == rack.pk
    fitted = works.piece(State.IN_PLACE)
    assert f'value="{rack.path}"' in text_of(shed.get(f"/t/{fitted.tags.current_code()}/do/strip"))


def test_a_piece_at_a_firm_is_promised_back_and_the_day_can_change(shed, works):
    piece, firm = works.piece(), works.firm()
    shed.post(way(piece), {"to": firm.name, "promised": "2099-01-31"})
    assert str(fresh(piece).promised_back) == "2099-01-31"
    shed.post(way(piece), {"to": firm.name, "promised": "2099-02-28"})
    assert str(fresh(piece).promised_back) == "2099-02-28"
    assert "Promised back on another day. Promised back 28 Feb 2099." in text_of(shed.get(f"/t/{code_of(piece)}"))


@pytest.mark.parametrize(
    ("entered", "told"),
    [
        ({"to": ""}, "Where to: Nothing was written. Say where it goes."),
        ({"to": "Nowhere"}, "Where to: No place is called “Nowhere”."),
        ({"to": "Rack"}, "Where to: “Rack” could be Rack B; Rack C. Write more of it."),
        ({"to": "Rack B", "promised": "2099-01-31"}, "Promised back: It is not going away. Leave the date blank."),
        ({"to": "Rack B", "promised": "31/1"}, "Promised back: Write the day as"),
        ({"to": "Invented Foundry", "promised": "2001-01-31"}, "Promised back: The day has passed."),
    ],
)
def test_a_move_that_cannot_be_is_told_and_changes_nothing(shed, works, people, rack, entered, told):
    add_location(people.storekeeper, "Rack C", "rack")
    add_location(people.storekeeper, "Invented Foundry", "firm")
    piece = works.piece()
    answer = shed.post(way(piece), entered)
    assert answer.status_code == 422
    assert told in text_of(answer)
    assert fresh(piece).location == works.crate


def test_whoever_comes_second_is_told_who_was_quicker_and_may_send_it_again(shed, works, people, rack):
    piece = works.piece()
    seen = piece.last_event
    move(piece, works.firm(), people.storekeeper)
    answer = shed.post(way(piece), {"to": "Rack B", "seen": seen})
    assert answer.status_code == 409
    assert "Storekeeper recorded “move” on it" in text_of(answer)
    assert f'name="seen" value="{fresh(piece).last_event}"' in text_of(answer)


def test_a_mistake_in_the_form_does_not_hide_that_somebody_was_quicker(shed, works, people, rack):
    piece = works.piece()
    seen = piece.last_event
    move(piece, works.firm(), people.storekeeper)
    wrong = shed.post(way(piece), {"to": "nowhere at all", "seen": seen})
    assert wrong.status_code == 422
    assert set(re.findall(r'name="seen" value="(\d*)"', text_of(wrong))) == {str(seen)}
    assert shed.post(way(piece), {"to": "Rack B", "seen": seen}).status_code == 409


def test_twice_is_once(shed, works, rack):
    piece = works.piece()
    for _ in range(2):
        shed.post(way(piece), {"to": "Rack B"})
    assert piece.movements.filter(went_to=rack).count() == 1


def test_a_fitted_piece_has_no_form_and_says_why(shed, works, rack):
    piece = works.piece("refitted")
    text = text_of(shed.get(way(piece)))
    assert "is refitted, so it lies where it is fitted. Strip it or take it off first." in text
    assert 'name="to"' not in text
    assert shed.post(way(piece), {"to": "Rack B"}).status_code == 422


def test_an_accepted_piece_comes_onto_the_locomotive_only_by_refitting(shed, works):
    piece = works.piece("accepted")
    answer = shed.post(way(piece), {"to": works.locomotive.location.path})
    assert answer.status_code == 422
    assert "comes onto the locomotive by refitting it" in text_of(answer)


def test_the_tag_of_a_crate_leads_to_the_crate(shed, works, people):
    tag = issue(works.crate, people.storekeeper).code
    assert shed.get(f"/t/{tag}/move").url == works.crate.get_absolute_url()


def test_tags_that_hang_on_nothing_move_nothing(shed, works):
    assert shed.get(f"/t/{unused(1)[0].code}/move").status_code == 404
    assert shed.get("/t/7K3M9QZ2/move").status_code == 404


def test_a_trustee_moves_nothing_and_a_stranger_signs_in(client, works, people):
    piece = works.piece()
    assert client.get(way(piece)).url.startswith("/sign-in/")
    client.force_login(people.trustee)
    assert client.get(way(piece)).status_code == 403
    client.force_login(people.volunteer)
    assert client.put(way(piece)).status_code == 405
