"""A column for exact sizes. It is text, because a database compares decimals as floats; sizes are judged in Python."""

from fractions import Fraction
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models


class MillimetresField(models.CharField):
    """An exact length in millimetres: a `Fraction` in Python, its text (`127/2`) in the database."""

    # What django-stubs asks of a field: what may be set, what is read. A CharField says str of both.
    _pyi_private_set_type: Any
    _pyi_private_get_type: Fraction  # type: ignore[assignment]  # and this one is none

    def __init__(self, *args, **kwargs):
        kwargs.setdefault("max_length", 60)
        super().__init__(*args, **kwargs)

    def from_db_value(self, value, expression, connection):
        return None if value is None else Fraction(value)

    def to_python(self, value):
        if value is None or isinstance(value, Fraction):
            return value
        try:
            return Fraction(value)
        except (TypeError, ValueError, ZeroDivisionError):
            raise ValidationError("Not an exact number of millimetres.") from None

    def get_prep_value(self, value):
        return None if value is None else str(Fraction(value))

    def value_to_string(self, obj):
        return self.get_prep_value(self.value_from_object(obj)) or ""
