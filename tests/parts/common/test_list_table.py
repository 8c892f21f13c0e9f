"""Every list of the works: sorted by a column that the address names, and saved as CSV and as a workbook."""

import csv
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO

import openpyxl
import pytest
from django.test import RequestFactory

from parts.common.list_table import Column, ListTable
from tests.factories import a_works
from tests.parts.a_half_done_works import half_done
from tests.parts.jobs import a_firm, a_renewal, a_repair

COLUMNS = (
    Column("name", "Piece", lambda row: row[0]),
    Column("by", "Promised", lambda row: row[1]),
    Column("waits", "Waits", lambda row: row[1], most_first=True),
    Column("", "Note", lambda row: "", on_page=False),
)
ROWS = [("rod", None), ("Äxle", date(2026, 5, 1)), ("bolt", date(2026, 1, 1))]


def table(query: str) -> ListTable:
    return ListTable(RequestFactory().get(f"/list/?{query}"), COLUMNS, "list")


def names(query: str) -> list[str]:
    return [name for name, _ in table(query).in_order(ROWS)]


def test_words_are_sorted_without_regard_to_case_and_accents():
    assert names("sort=name") == ["Äxle", "bolt", "rod"]
    assert names("sort=-name") == ["rod", "bolt", "Äxle"]


def test_what_says_nothing_comes_last_either_way_round():
    assert names("sort=by") == ["bolt", "Äxle", "rod"]
    assert names("sort=-by") == ["Äxle", "bolt", "rod"]


@pytest.mark.parametrize("query", ["", "sort=", "sort=-", "sort=nonsense", "sort=%00"])
def test_without_a_column_of_ours_the_order_stays(query):
    assert names(query) == ["rod", "Äxle", "bolt"]


def test_a_head_turns_the_order_round_and_keeps_the_filters():
    name, by, _ = table("q=steel&page=3&sort=name").heads
    assert (name.sorted, name.href) == ("ascending", "?q=steel&sort=-name")
    assert (by.sorted, by.href) == ("", "?q=steel&sort=by")
    assert table("sort=-name").heads[0].sorted == "descending"


def test_the_first_press_puts_the_worst_on_top_where_one_looks_for_that():
    assert table("").heads[2].href == "?sort=-waits"
    assert names("sort=-waits")[0] == "Äxle"
    assert table("sort=-waits").heads[2].href == "?sort=waits"
    assert table("sort=waits").heads[2].href == "?sort=-waits"


def test_a_file_has_the_same_filters_and_order():
    assert table("q=steel&page=3&sort=name").files == [
        ("CSV", "?q=steel&sort=name&as=csv"),
        ("XLSX", "?q=steel&sort=name&as=xlsx"),
    ]


# --- the lists themselves


@pytest.fixture(scope="module")
def works(module_db):
    works = a_works()
    half_done(works)
    a_firm(works)
    a_renewal(works)
    a_repair(works, estimate=Decimal("120.50"))
    return works


LISTS = (
    "/l/{slug}/", "/l/{slug}/next/", "/l/{slug}/structure/", "/l/{slug}/holds/", "/l/{slug}/renewals/",
    "/l/{slug}/money/", "/firms/", "/examinations/", "/where/", "/find/?state=stripped",
)  # fmt: skip


@pytest.mark.django_db
@pytest.mark.parametrize("address", LISTS)
def test_each_list_is_saved_and_sorted(client, works, address):
    client.force_login(works.people.trustee)
    address = address.format(slug=works.locomotive.slug)
    page = client.get(address)
    head = next(head for head in page.context["table"].heads if head.href)
    and_ = "&" if "?" in address else "?"
    assert f'href="{head.href.replace("&", "&amp;")}"' in page.content.decode()
    assert client.get(address.partition("?")[0] + head.href).status_code == 200

    saved = client.get(f"{address}{and_}as=csv")
    rows = list(csv.reader(StringIO(saved.content.decode("utf-8-sig"), newline="")))
    book = openpyxl.load_workbook(BytesIO(client.get(f"{address}{and_}as=xlsx").content)).active
    assert saved["Content-Disposition"].startswith("attachment")
    assert [cell.value for cell in book[1]] == rows[0]
    assert book.max_row == len(rows)
    assert len(rows) > 1
    paper = client.get(f"{address}{and_}as=print")
    assert paper.status_code == 200
    if shown := paper.context.get("page_obj"):
        assert not shown.has_other_pages()
    client.logout()
    assert client.get(f"{address}{and_}as=csv").status_code == 302
