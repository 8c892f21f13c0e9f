"""How long a text may be, as the tables say."""

from typing import Any

from django.db.models import Model


def longest(model: type[Model], column: str) -> int:
    """How many characters this column takes."""
    field: Any = model._meta.get_field(column)  # only Django knows that it is one of text
    most: int = field.max_length
    return most
