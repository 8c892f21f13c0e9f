"""What was found, as a list to save."""

from collections.abc import Iterator

from django.utils import timezone

from core.web.found import FoundRow

from ..common.list_table import Column
from ..domain.tagcodes import grouped
from .filtering import Filters, Found, places_left
from .found_rows import rows_of

COLUMNS = (
    Column("name", "What", lambda row: row.title),
    Column("tag", "Tag", lambda row: grouped(row.code) if row.code else ""),
    Column("", "State", lambda row: row.state),
    Column("", "Needs", lambda row: row.need),
    Column("where", "For which place, and where it lies", lambda row: row.about),
    Column("looked", "Last handled", lambda row: timezone.localdate(row.looked) if row.looked else None),
)
"""The words of `SORTS`: the query puts the list in order."""


def whole_list(filters: Filters) -> Iterator[FoundRow]:
    """Every piece, then the places without one."""
    yield from Found(filters).all_rows()
    yield from rows_of("place", list(places_left(filters).values_list("pk", flat=True)), filters.today)
