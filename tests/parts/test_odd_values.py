"""What no form of ours sends, but an address or a program may: refused, and never a fault of the server."""

import csv
import io

import pytest
from django.urls import reverse

from core.domain.numbers import as_number
from parts.domain.list_files import plain_cell
from parts.models import Location, Subassembly

LONG = "9" * 5000
"""More digits than Python reads: `sys.int_info.default_max_str_digits` is 4,300."""


@pytest.mark.engine
@pytest.mark.parametrize(
    ("name", "asked"),
    [("locations", "in"), ("add_location", "in"), ("strip", "position"), ("bulk", "at"), ("labels", "location")],
)
def test_a_number_of_any_length_in_an_address(client, works, name, asked):
    client.force_login(works.people.engineer)
    assert client.get(reverse(name), {asked: LONG}).status_code < 500


def test_a_number_that_is_too_long_names_no_row(works):
    assert Location.objects.by_number(LONG) is None
    assert Subassembly.objects.by_number(LONG) is None
    assert Location.objects.by_number(str(works.crate.pk)) == works.crate


@pytest.mark.parametrize("entered", [None, "", "-1", "1.0", "1e3", " 1", LONG, "9" * 19])
def test_what_is_no_number_of_a_row(entered):
    assert as_number(entered) is None


def test_a_name_longer_than_a_pattern_of_sqlite_names_no_place(works):
    """SQLite, Implementation Limits: SQLITE_MAX_LIKE_PATTERN_LENGTH is 50,000 bytes."""
    assert Location.objects.meant_by("x" * 50_001) == []


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠"])
def test_no_cell_begins_as_a_formula(sign):
    """OWASP, CSV Injection: full-width signs are read as the plain ones by some spreadsheets."""
    out = io.StringIO()
    csv.writer(out).writerow([plain_cell(f"{sign}1+1")])
    assert out.getvalue().lstrip('"').startswith("'")
