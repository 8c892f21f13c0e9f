"""What was found, as a file for a spreadsheet."""

import csv
from io import StringIO

from django.utils import timezone

from ..domain.plain import day
from ..domain.tagcodes import grouped
from ..money.ledger_files import plain_cell
from .filtering import Filters, Found, places_left
from .found_rows import rows_of

COLUMNS = ["what", "tag", "state", "needs", "for which place, and where it lies", "last in hand"]


def as_csv(filters: Filters) -> bytes:
    """Every piece, then the places without one. Marked as UTF-8, as a spreadsheet wants it."""
    file = StringIO(newline="")
    out = csv.writer(file)
    out.writerow(COLUMNS)
    for rows in (Found(filters).all_rows(), _places(filters)):
        out.writerows(_cells(row) for row in rows)
    return file.getvalue().encode("utf-8-sig")


def _places(filters: Filters):
    return rows_of("place", list(places_left(filters).values_list("pk", flat=True)), filters.today)


def _cells(row) -> list[str]:
    looked = day(timezone.localdate(row.looked)) if row.looked else ""
    cells = [row.title, grouped(row.code) if row.code else "", row.state, row.need, row.about, looked]
    return [plain_cell(cell) for cell in cells]
