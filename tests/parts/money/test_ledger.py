"""The screen that tells how original a locomotive is, and its two files."""

import csv
from decimal import Decimal
from io import StringIO

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from parts.entering.writers.pieces import choose_place, describe
from parts.money.loading_ledger import load_ledger
from parts.work.writers.repairs import finish_repair
from tests.parts.jobs import a_repair

NAMES = ("ledger", "ledger_csv", "ledger_pdf")


def asked(client, person, works, name="ledger"):
    client.force_login(person)
    return client.get(reverse(name, args=[works.locomotive.slug]))


def a_given_up_piece(works, **entered):
    piece = works.piece(place=works.plain_place(name="=old brass"), origin="original")
    works.withdraw(piece, **{"reason": "worn through to the crown", "destination": "pattern"} | entered)
    return piece


@pytest.mark.engine
def test_a_trustee_reads_where_a_piece_went_and_why(client, works):
    piece = a_given_up_piece(works)
    page = asked(client, works.people.trustee, works).content.decode()

    assert "pattern" in page
    assert "Worn through to the crown" in page
    assert reverse("tag", args=[piece.tags.current_code()]) in page


def test_new_material_let_in_makes_an_original_a_repaired_one(client, works):
    piece = works.piece("cleaned", origin="original")
    repair = a_repair(works, piece)
    finish_repair(
        repair, works.people.fitter, work="bushed the bore", who="the smith", let_in="bush", let_in_kg=Decimal("12.250")
    )
    page = asked(client, works.people.volunteer, works).content.decode()

    assert "Original, repaired" in page
    assert "12.250 kg" in page


def test_by_mass_where_it_is_known_and_of_how_many_it_is_not(client, works):
    heavy, _ = works.piece(origin="original"), works.piece(origin="original")
    assert "No piece has a mass yet" in asked(client, works.people.trustee, works).content.decode()
    describe(heavy, works.people.volunteer, mass_kg=Decimal("101.6046908"))
    page = asked(client, works.people.trustee, works).content.decode()
    assert '101.6<span class="phone"> kg' in page
    assert "1 of 2 there" in page
    answer = asked(client, works.people.trustee, works, "ledger_csv")
    rows = list(csv.reader(StringIO(answer.content.decode("utf-8-sig"))))
    total = dict(zip(rows[1], next(row for row in rows if row[:1] == ["In all"]), strict=True))
    assert (total["original, kg"], total["pieces of no known mass"]) == ("101.6046908", "1")
    assert asked(client, works.people.trustee, works, "ledger_pdf").content[:4] == b"%PDF"


def test_whoever_may_not_enter_a_mass_is_not_sent_to_do_so(client, works):
    works.piece(origin="original")
    assert "Edit details" not in asked(client, works.people.trustee, works).content.decode()
    assert "Edit details" in asked(client, works.people.volunteer, works).content.decode()


def test_an_empty_register_says_so(client, works):
    assert "No piece is in the register yet" in asked(client, works.people.trustee, works).content.decode()


def test_the_csv_holds_the_sums_and_what_went_and_never_a_formula(client, works):
    a_given_up_piece(works)
    works.piece(origin="original")
    answer = asked(client, works.people.trustee, works, "ledger_csv")
    rows = list(csv.reader(StringIO(answer.content.decode("utf-8-sig"))))
    total = dict(zip(rows[1], next(row for row in rows if row[:1] == ["In all"]), strict=True))

    assert (total["original"], total["withdrawn"]) == ("1", "1")
    assert rows[-1][0] == "'=old brass"
    assert rows[-1][5:7] == ["pattern", "worn through to the crown"]


def test_the_pdf_carries_its_letters_with_it(client, works):
    a_given_up_piece(works, reason="worn " * 300)
    answer = asked(client, works.people.trustee, works, "ledger_pdf")

    assert answer.content.startswith(b"%PDF-")
    assert b"/FontFile2" in answer.content
    assert "ledger-" in answer["Content-Disposition"]


def test_a_reason_longer_than_a_page_is_printed_in_short(client, works):
    a_given_up_piece(works, reason="worn " * 4000)
    answer = asked(client, works.people.trustee, works, "ledger_pdf")

    assert answer.status_code == 200
    assert b"/Type /Pages" in answer.content
    assert b"/Count 1 " in answer.content


def test_its_queries_do_not_grow_with_the_pieces(works):
    """Nor with those that came off a place and have none now: the demo has none of them for its crawl to tell."""

    def queries() -> int:
        with CaptureQueriesContext(connection) as taken:
            load_ledger(works.locomotive)
        return len(taken)

    works.piece()
    before = queries()
    finish_repair(a_repair(works), works.people.fitter, work="bushed", who="own shop")
    a_given_up_piece(works)
    for _ in range(2):
        choose_place(works.piece(), None, works.people.engineer)
    assert queries() == before <= 4


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_sent_to_it(client, works, name):
    client.force_login(works.people.manager)
    assert client.post(reverse(name, args=[works.locomotive.slug])).status_code == 405


@pytest.mark.parametrize("name", NAMES)
def test_a_stranger_signs_in_first(client, works, name):
    assert client.get(reverse(name, args=[works.locomotive.slug])).status_code == 302


@pytest.mark.parametrize("name", NAMES)
def test_an_unknown_locomotive_is_not_there(client, works, name):
    client.force_login(works.people.trustee)
    assert client.get(reverse(name, args=["nowhere"])).status_code == 404


def test_shares_are_told_in_per_cent_of_what_is_there(client, works):
    for origin in ("original", "original", "unknown"):
        works.piece(origin=origin)
    a_given_up_piece(works)  # it went: no share of what is there
    page = asked(client, works.people.trustee, works).content.decode()
    assert "Of the 3 that are there" in page
    assert page.count('<td class="num counted">66.7 %</td>') == page.count('<td class="num counted">33.3 %</td>') == 1
    assert page.count(" %</td>") == 2
