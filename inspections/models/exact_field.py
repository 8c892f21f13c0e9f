"""A column for exact sizes. It is text, because a database compares decimals as floats; sizes are judged in Python."""

from fractions import Fraction

from django.core.exceptions import ValidationError
from django.db import models


class MillimetresField(models.CharField):
    """An exact length in millimetres: a `Fraction` in Python, its text (`127/2`) in the database."""

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
