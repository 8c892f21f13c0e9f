"""One box to find anything, its first answers, and the filters."""

import csv
import io

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from parts.actions.refresh import refresh
from parts.domain.words import State
from parts.models import Component
from tests.inspections.what_lasts import a_crack_check
from tests.parts.jobs import a_firm
from tests.tables import for_each

JUNK = [
    "%",
    "_",
    "'; drop",
    "\0",
    "x" * 10_000,
    " ".join("abcdefghij"),
    'AND OR NOT "',
    "*",
    "NEAR(a b)",
    "text:a",
    "🚂",
]


@pytest.fixture
def signed_in(client, works):
    client.force_login(works.people.trustee)
    return client


@pytest.fixture
def piece(works):
    return works.piece()


def listed(client, **asked) -> list[int]:
    response = client.get("/find/", asked)
    assert response.status_code == 200
    return [row.thing for row in response.context["page_obj"].object_list]


def grouped(client, **asked) -> dict[str, list[int]]:
    response = client.get("/find/", asked)
    assert response.status_code == 200
    return {group.kind: [row.thing for row in group.rows] for group in response.context["answer"].groups}


@pytest.mark.engine
def test_words_are_answered_by_kinds_each_with_its_state_and_where_it_lies(signed_in, works):
    piece = works.piece(place=works.plain_place(name="slide bar", side="RH"))
    empty = works.plain_place(name="slide valve")
    assert grouped(signed_in, q="slide") == {"piece": [piece.pk], "place": [empty.pk]}
    page = signed_in.get("/find/", {"q": "slide"}).content.decode()
    for words in ("stripped", works.crate.name, piece.tags.get().code[:4]):
        assert words in page


def means(client, q: str) -> list[tuple[str, int | None]]:
    assert client.get("/find/first", {"q": q}).status_code == 200
    page = client.get("/find/", {"q": q})
    return [(one.words, one.many) for one in page.context["meant"]]


def test_a_state_a_need_or_a_finding_leads_to_the_pieces_that_it_names(signed_in, works):
    works.piece(place=works.plain_place(name="slide bar"))
    assert means(signed_in, "Stripped") == [("Pieces, stripped", 1)]
    assert means(signed_in, "slide, stripped") == [("Pieces, stripped, with “slide,”", 1)]
    assert means(signed_in, "in the making") == [("Pieces, in the making", 0)]
    assert means(signed_in, "clean") == [("Pieces, needs: clean", 1)]
    assert means(signed_in, "slide") == []
    page = signed_in.get("/find/", {"q": "stripped"}).content.decode()
    assert 'href="/find/?state=stripped"' in page
    assert "Nothing in the register" not in page


@pytest.mark.engine
def test_cracked_finds_what_a_crack_check_showed_until_a_later_one_is_good(signed_in, works):
    good, bad, mended = (works.piece(State.CLEANED) for _ in range(3))
    for piece, *checks in ((good, ()), (bad, (), ("4",)), (mended, ("4",), ())):
        for sizes in checks:
            a_crack_check(works, piece, *sizes)
    assert means(signed_in, "cracked") == [("Pieces, a crack or another defect was found on it", 1)]
    assert listed(signed_in, flawed="1") == [bad.pk]


def test_a_firm_is_found_by_whom_to_ring_for_those_who_may_read_it(client, works):
    firm = a_firm(works, name="Ulmshaw Foundry", contact="Mr Tarn, 01632 960 123")
    client.force_login(works.people.manager)
    for asked in ("tarn", "mr tarn", "01632 960123", "960-123"):
        assert means(client, asked) == [("Ulmshaw Foundry: Mr Tarn, 01632 960 123", None)], asked
        assert firm.get_absolute_url() in client.get("/find/", {"q": asked}).content.decode()
    client.force_login(works.people.volunteer)
    assert means(client, "tarn") == []


def test_a_whole_tag_opens_the_piece(signed_in, works):
    code = works.piece().tags.get().code
    assert signed_in.get("/find/", {"q": f"{code[:4]} {code[4:]}".lower()}).url == f"/t/{code}"


@pytest.mark.engine
def test_the_nearest_is_said_to_be_the_nearest(signed_in, works):
    works.piece(place=works.plain_place(name="axlebox"))
    for asked in ({"q": "axelbox"}, {"q": "axelbox", "state": "stripped"}):
        page = signed_in.get("/find/", asked).content.decode()
        assert "Nothing is called exactly “axelbox”. Nearest: <b>axlebox</b>" in page


def test_first_answers_are_a_fragment(signed_in, works):
    piece = works.piece(place=works.plain_place(name="axlebox"))
    answer = signed_in.get("/find/first", {"q": "axl"})
    assert f'href="/t/{piece.tags.get().code}"' in answer.content.decode()
    assert b"<html" not in answer.content
    assert b"nor anything like it" in signed_in.get("/find/first", {"q": "zzzz"}).content
    assert b"Open tag" in signed_in.get("/find/first", {"q": piece.tags.get().code}).content


# --- filters


@pytest.mark.engine
def test_each_filter_leaves_what_it_says(signed_in, works):
    place = works.plain_place(name="axle", safety_critical=True)
    here = works.piece(State.CLEANED, place=place)
    elsewhere = works.piece(place=works.plain_place(pressure_part=True), location=works.firm())
    gone = works.piece(State.WITHDRAWN)
    loose, other = works.donor(), works.another().piece()
    slug = works.locomotive.slug
    for asked, left in (
        ({"state": "cleaned"}, {here}),
        ({"need": "fetch"}, {elsewhere}),
        ({"need": "examine"}, {here}),
        ({"where": works.crate.name, "nowithdrawn": "1"}, {here, loose}),
        ({"critical": "1"}, {here}),
        ({"pressure": "1"}, {elsewhere}),
        ({"noplace": "1"}, {loose}),
        ({"in": slug, "nowithdrawn": "1"}, {here, elsewhere}),
        ({"in": f"{slug}/{works.frames.code}"}, {here, elsewhere, gone}),
        ({"in": slug, "critical": "1", "q": "axle", "state": "cleaned"}, {here}),
        ({"nophoto": "1", "nowithdrawn": "1"}, {here, elsewhere, loose, other}),
        ({"lost": "1"}, set()),
    ):
        assert set(listed(signed_in, **asked)) == {piece.pk for piece in left}, asked


def test_the_subassemblies_of_the_locomotive_at_hand_can_be_chosen(signed_in, works):
    other = works.another()
    here, there = (f'value="{each.locomotive.slug}/{each.frames.code}"' for each in (works, other))
    page = signed_in.get("/find/", {"in": works.locomotive.slug}).content.decode()
    assert (here in page, there in page, f'value="{other.locomotive.slug}"' in page) == (True, False, True)
    signed_in.get(other.locomotive.get_absolute_url())
    page = signed_in.get("/find/").content.decode()
    assert (here in page, there in page) == (False, True)


def test_a_filter_that_means_nothing_is_said_and_leaves_nothing(signed_in, works):
    works.piece()
    for asked, entered in (
        ({"where": "the moon"}, "no place is called “the moon”"),
        ({"in": "x/y"}, "no such locomotive"),
    ):
        answer = signed_in.get("/find/", asked)
        assert entered in answer.content.decode()
        assert not answer.context["many"]


@pytest.mark.engine
def test_what_is_fitted_in_a_piece_lies_where_that_piece_lies(signed_in, works):
    outer, inner = works.a_broken_down_piece("brass")
    works.bring_on(inner, State.REFITTED)
    assert inner.location is None
    assert {outer.pk, inner.pk} <= set(listed(signed_in, where=works.crate.name))


@pytest.mark.engine
def test_places_without_a_piece_are_listed_where_a_place_can_answer(signed_in, works):
    empty = works.plain_place()
    works.know_empty(empty)
    answer = signed_in.get("/find/", {"need": "source"})
    assert [row.thing for row in answer.context["places"]] == [empty.pk]
    assert listed(signed_in, need="source", show="place") == [empty.pk]
    assert not signed_in.get("/find/", {"need": "source", "state": "cleaned"}).context["places"]


def test_the_need_is_that_of_today(signed_in, works):
    """A look-again date comes without anybody writing anything."""
    piece = works.piece(State.IN_PLACE)
    Component.objects.filter(pk=piece.pk).update(look_again="2020-01-01")
    refresh(piece.place_id)
    assert listed(signed_in, need="recheck") == [piece.pk]
    (row,) = signed_in.get("/find/", {"state": "in place"}).context["page_obj"].object_list
    assert row.need == "recheck"


@pytest.mark.engine
def test_nobody_has_looked_for_a_year_but_a_printed_tag_is_no_look(signed_in, works):
    from tests.parts.pieces.old_acts import long_ago

    seen, unseen = works.piece(), long_ago(works, works.piece())
    assert listed(signed_in, unseen="1") == [unseen.pk]
    works.clean(unseen)
    assert listed(signed_in, unseen="1") == []
    assert listed(signed_in, sort="looked")[0] == seen.pk


@pytest.mark.engine
def test_the_list_is_sorted_counted_and_paged(signed_in, works):
    names = [f"washer {n:03}" for n in range(70)]
    works.enter_many({"name": name} for name in reversed(names))
    first = signed_in.get("/find/", {"q": "washer", "sort": "name"})
    assert b"Pieces: 70" in first.content
    rows = [row.title for row in first.context["page_obj"].object_list]
    rows += [row.title for row in signed_in.get("/find/?q=washer&sort=name&page=2").context["page_obj"].object_list]
    assert rows == [name.capitalize() for name in names]
    tagged = works.piece(place=works.plain_place(name="washer"))
    for sort, at in (("where", 0), ("looked", -1)):  # where nothing is known comes last; seen today last of all
        numbers = listed(signed_in, q="washer", sort=sort, page=1 if at == 0 else 2)
        assert numbers[at] == tagged.pk, sort


def test_several_of_the_list_can_be_chosen(signed_in, works):
    signed_in.force_login(works.people.volunteer)
    piece = works.piece(State.CLEANED)
    works.piece()
    assert b'href="/pieces/bulk/?state=cleaned"' in signed_in.get("/find/", {"state": "cleaned"}).content
    offered = signed_in.get("/pieces/bulk/?state=cleaned").context["rows"]
    assert [row.thing for row, _ in offered] == [piece.pk]


def test_the_list_goes_into_a_spreadsheet(signed_in, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(name="=1+1"))
    works.piece()
    answer = signed_in.get("/find/", {"state": "cleaned", "as": "csv"})
    (heads, row) = csv.reader(io.StringIO(answer.content.decode("utf-8-sig")))
    assert row[0].startswith("'=1+1")
    assert row[1:3] == [f"{piece.tags.get().code[:4]} {piece.tags.get().code[4:]}", "cleaned"]
    assert heads[0] == "What"


# --- what anybody may type


@pytest.mark.engine
@for_each("junk", JUNK)
def test_junk_finds_nothing_and_breaks_nothing(signed_in, piece, junk):
    everything = dict.fromkeys(("q", "in", "state", "need", "where", "sort", "show", "page", "critical", "as"), junk)
    for asked in ({"q": junk}, {"q": "horn", "page": junk}, everything, {"q": junk, "show": "place"}):
        assert signed_in.get("/find/", asked).status_code == 200
    assert signed_in.get("/find/first", {"q": junk}).status_code == 200


def test_strangers_sign_in_first_and_nothing_is_posted(client, signed_in, works):
    for address in ("/find/", "/find/first"):
        assert signed_in.post(address).status_code == 405
    client.logout()
    for address in ("/find/", "/find/first"):
        assert client.get(address, {"q": "rod"}).status_code == 302


def test_its_queries_do_not_grow_with_the_rows(signed_in, works):
    questions = ("/find/?q=horn", "/find/first?q=horn", "/find/?q=horn&state=stripped", "/find/?need=clean")

    def queries():
        numbers = []
        for question in questions:
            signed_in.get(question)  # folds what is new
            with CaptureQueriesContext(connection) as caught:
                signed_in.get(question)
            numbers.append(len(caught))
        return numbers

    works.piece()
    few = queries()
    for _ in range(8):
        works.piece()
    assert queries() == few
    assert max(few) <= 22
