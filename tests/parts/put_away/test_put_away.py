"""Putting away: the crate, then piece after piece; a wrong one is taken back; what cannot go there is said in words."""

import pytest

from parts.actions.tags import issue, unused
from parts.domain.words import State
from parts.foundry.writers.patterns import add_pattern
from parts.models import Movement
from parts.stores.writers import move
from tests.as_shown import text_of
from tests.factories import add_location, fresh
from tests.tags_seen import a_tag, photographed, sent

BENCH_NAME = "Bench 2"


@pytest.fixture
def nell(client, works):
    client.force_login(works.people.storekeeper)
    return client


@pytest.fixture
def crate(works):
    return add_location(works.people.storekeeper, "Crate 14", "crate")


@pytest.fixture
def filling(nell, crate):
    """Puts what is given into the crate, as the page does."""
    nell.post("/put-away/", {"into": crate.name})

    def put(*things, photo=None, **more):
        codes = " ".join(str(thing) if isinstance(thing, str) else thing.tags.current_code() for thing in things)
        data = {"picture": photo} if photo else {"code": codes}
        return nell.post(f"/put-away/{crate.pk}/put", data, **more)

    return put


def lies(piece) -> str:
    return str(fresh(piece).location)


def test_queries_do_not_grow_with_what_was_put_in(nell, works, filling, django_assert_max_num_queries):
    filling(*(works.piece() for _ in range(6)))
    with django_assert_max_num_queries(9):
        assert "6 pieces so far" in text_of(nell.get("/put-away/"))


def test_pieces_go_into_the_crate_one_after_another_and_are_counted_at_the_end(nell, works, crate, filling):
    assert "Into Crate 14" in text_of(nell.get("/put-away/"))
    one, two = works.piece(), works.piece()
    for piece in (one, two):
        assert filling(piece).url == "/put-away/"
        assert lies(piece) == "Crate 14"
    page = text_of(nell.get("/put-away/"))
    assert "2 pieces so far" in page
    assert page.index(two.tags.current_code()) < page.index(one.tags.current_code())  # the newest first
    text = text_of(nell.post("/put-away/done", follow=True))
    assert "2 pieces put into Crate 14." in text
    assert "into which crate?" in text_of(nell.get("/put-away/"))


def test_a_photo_of_several_tags_puts_all_of_them(works, crate, filling):
    pieces = [works.piece(), works.piece()]
    tags = [a_tag(piece.tags.current_code()) for piece in pieces]
    assert filling(photo=sent(photographed(*tags))).status_code == 302
    assert [lies(piece) for piece in pieces] == ["Crate 14", "Crate 14"]


def test_the_crate_is_chosen_by_a_photo_of_its_tag(nell, works, crate):
    code = issue(crate, works.people.storekeeper).code
    assert nell.post("/put-away/", {"picture": sent(photographed(a_tag(code)))}).url == "/put-away/"
    assert "Into Crate 14" in text_of(nell.get("/put-away/"))
    piece = works.piece().tags.current_code()
    refused = nell.post("/put-away/", {"picture": sent(photographed(a_tag(piece)))})
    assert refused.status_code == 422
    assert "That is no crate&#x27;s tag" in text_of(refused)


def test_a_wrong_one_is_taken_back_to_where_it_lay(nell, works, crate, filling):
    bench = add_location(works.people.storekeeper, BENCH_NAME, "bench")
    piece = works.piece()
    move(piece, bench, works.people.storekeeper)
    before = fresh(piece).normal_location
    filling(piece)
    movement = Movement.objects.filter(component=piece).first()
    text = text_of(nell.post(f"/put-away/back/{movement.event_id}", follow=True))
    assert f"it lies in {BENCH_NAME} again" in text
    assert "Nothing put in yet" in text
    assert (lies(piece), fresh(piece).normal_location) == (BENCH_NAME, before)
    assert Movement.objects.filter(component=piece).first().came_from == crate  # both moves stay in its history


def test_one_whose_place_nobody_knew_is_taken_back_to_that(nell, works, crate, filling):
    piece = works.piece()
    type(piece).objects.filter(pk=piece.pk).update(location=None, normal_location=None)
    filling(piece)
    assert fresh(piece).normal_location == crate
    nell.post(f"/put-away/back/{Movement.objects.filter(component=piece).first().event_id}")
    assert (fresh(piece).location, fresh(piece).normal_location) == (None, None)


def test_one_that_somebody_moved_on_is_not_taken_back(nell, works, crate, filling):
    piece = works.piece()
    filling(piece)
    movement = Movement.objects.filter(component=piece).first()
    move(piece, works.crate, works.people.volunteer)
    assert nell.post(f"/put-away/back/{movement.event_id}").status_code == 409
    assert lies(piece) == str(works.crate)
    assert nell.post("/put-away/back/0").status_code == 404


def test_what_cannot_go_there_is_said_and_keeps_nothing_else_back(works, crate, filling):
    good, fitted, gone = works.piece(), works.piece(State.REFITTED), works.piece(State.WITHDRAWN)
    loose = unused(1)[0].code
    response = filling(good, fitted, gone, loose, "7K3")
    text = text_of(response)
    assert response.status_code == 422
    assert lies(good) == "Crate 14"
    for why in ("is refitted, so it lies where it is fitted", "was withdrawn", "is not tied to anything yet", "has 3"):
        assert why in text
    assert "The rest is done" in text
    assert lies(fitted) != "Crate 14"
    assert lies(gone) != "Crate 14"


def test_one_inside_a_built_up_piece_names_what_it_is_in(works, crate, filling):
    outer, inner = works.a_broken_down_piece()
    works.bring_on(inner, State.REFITTED)
    response = filling(inner)
    assert response.status_code == 422
    assert f"is fitted in the {outer.place.words}" in text_of(response)


def test_one_that_was_at_a_firm_is_back(nell, works, crate, filling):
    firm = add_location(works.people.storekeeper, "Oakwell Forge", "firm")
    piece = works.piece()
    move(piece, firm, works.people.storekeeper)
    assert "It is back from Oakwell Forge." in text_of(filling(piece, follow=True))
    assert fresh(piece).away_since is None


def test_a_pattern_is_put_away_and_taken_back_too(nell, works, crate, filling):
    pattern = add_pattern(works.people.fitter, name="axlebox", location=works.crate)
    assert filling(pattern).status_code == 302
    assert lies(pattern) == "Crate 14"
    assert "Axlebox" in text_of(nell.get("/put-away/"))
    nell.post(f"/put-away/back/{Movement.objects.filter(pattern=pattern).first().event_id}")
    assert lies(pattern) == str(works.crate)


def test_a_mistyped_code_offers_what_it_may_have_been(works, crate, filling):
    code = works.piece().tags.current_code()
    wrong = code[:2] + ("7" if code[2] != "7" else "8") + code[3:]
    response = filling(wrong)
    assert response.status_code == 422
    assert f'name="code" value="{code}"' in text_of(response)


def test_the_tag_of_another_crate_goes_on_with_that_one_unless_it_comes_late(nell, works, crate, filling):
    other = add_location(works.people.storekeeper, "Crate 20", "crate")
    code = issue(other, works.people.storekeeper).code
    late = filling(code, headers={"X-Cotter-Key": "a" * 32, "X-Cotter-Person": str(works.people.storekeeper.pk)})
    assert late.status_code == 422
    assert "it came late" in text_of(late)
    assert "Into Crate 14" in text_of(nell.get("/put-away/"))
    filling(code)
    assert "Into Crate 20" in text_of(nell.get("/put-away/"))


def test_kept_on_a_phone_and_sent_twice_it_is_put_once(nell, works, crate, filling):
    piece = works.piece()
    before = Movement.objects.count()
    key = {"X-Cotter-Key": "b" * 32, "X-Cotter-Person": str(works.people.storekeeper.pk)}
    assert [filling(piece, headers=key).json()["again"] for _ in range(2)] == [False, True]
    assert Movement.objects.count() == before + 1


def test_while_a_crate_is_filled_the_page_of_a_piece_has_the_button(nell, works, crate, filling):
    code = works.piece().tags.current_code()
    assert "Put into Crate 14" in text_of(nell.get(f"/t/{code}"))
    nell.post("/put-away/done")
    assert "Put into Crate 14" not in text_of(nell.get(f"/t/{code}"))


def test_signing_in_again_leaves_the_crate_in_hand_to_whoever_filled_it_until_it_is_done(nell, works, filling):
    def signs_in_again(person) -> str:
        nell.force_login(works.people.volunteer)  # in between, which begins another session
        nell.force_login(person)
        return text_of(nell.get("/put-away/"))

    filling(works.piece())
    nell.get("/put-away/")
    assert "into which crate?" in signs_in_again(works.people.fitter)
    assert "1 piece so far" in signs_in_again(works.people.storekeeper)
    nell.post("/put-away/done")
    assert "into which crate?" in signs_in_again(works.people.storekeeper)


def test_only_who_may_move_puts_away(client, works, crate):
    assert client.get("/put-away/").status_code == 302
    client.force_login(works.people.trustee)
    assert client.get("/put-away/").status_code == 403
    assert client.post(f"/put-away/{crate.pk}/put", {"code": "x"}).status_code == 403
    client.force_login(works.people.volunteer)
    assert client.get(f"/put-away/{crate.pk}/put").status_code == 405
    assert client.post("/put-away/", {"into": "no such crate"}).status_code == 422
    assert client.post("/put-away/", {"into": str(works.locomotive.location)}).status_code == 422


def test_a_piece_that_lies_elsewhere_is_put_back_to_its_normal_place_in_one_tap(nell, works):
    shed = add_location(works.people.storekeeper, "Shed 2", "building")
    rack = add_location(works.people.storekeeper, "rack B", "rack", shed)
    piece = works.piece()
    type(piece).objects.filter(pk=piece.pk).update(normal_location=rack)
    code, back = piece.tags.current_code(), "It is back in its normal place"
    page = text_of(nell.get(f"/t/{code}"))
    assert "Shed 2, rack B" in page  # in words a stranger can follow
    assert back in page
    nell.post(f"/t/{code}/move", {"to": rack.path, "seen": fresh(piece).last_event})
    page = text_of(nell.get(f"/t/{code}"))
    assert "where it lies now" in page
    assert back not in page


@pytest.mark.engine
def test_where_a_piece_lies_becomes_its_normal_place(nell, works, crate):
    piece = works.piece()
    move(piece, crate, works.people.storekeeper)
    move(piece, works.crate, works.people.storekeeper)
    code, seen = piece.tags.current_code(), fresh(piece).last_event
    assert fresh(piece).normal_location == crate
    text = text_of(nell.post(f"/t/{code}/normal-place", {"seen": seen}, follow=True))
    assert fresh(piece).normal_location == works.crate
    assert f"Its normal place is from now on {works.crate}." in text  # in its history
    assert "after you opened the page" in text_of(nell.post(f"/t/{code}/normal-place", {"seen": seen}, follow=True))


@pytest.mark.engine
def test_one_that_was_missed_is_found_by_its_tag_in_the_crate_where_it_should_lie(works, filling, crate):
    piece = works.piece()
    move(piece, crate, works.people.storekeeper)
    type(piece).objects.filter(pk=piece.pk).update(missed_on=piece.since)
    assert "already in Crate 14. It had been missed, and is found." in text_of(filling(piece, follow=True))
    assert fresh(piece).missed_on is None


def test_a_crate_chosen_without_a_network_is_named_with_each_piece_and_the_list_begins_with_the_first(
    nell, works, crate
):
    one, two = works.piece(), works.piece()
    for piece in (one, two):
        sent = {"into": crate.path, "code": piece.tags.current_code()}
        assert nell.post("/put-away/put", sent).url == "/put-away/"
        assert lies(piece) == "Crate 14"
    assert "2 pieces so far" in text_of(nell.get("/put-away/"))
    answer = nell.post("/put-away/put", {"into": "Crate 999", "code": one.tags.current_code()})
    assert answer.status_code == 422
    assert "No place is called “Crate 999”" in text_of(answer)
