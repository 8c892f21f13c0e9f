"""A row by the number that an address or a form gave."""

from typing import Any

from django.db.models import QuerySet

from ..domain.numbers import as_number


def numbered(rows: QuerySet, entered: object) -> Any | None:
    """The row of this number; None where there is none, without asking the database for what is no number."""
    number = as_number(entered)
    return None if number is None else rows.filter(pk=number).first()
