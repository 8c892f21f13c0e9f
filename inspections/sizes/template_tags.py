"""How a size is written."""

from fractions import Fraction

from django import template

from ..domain.two_units import in_both

register = template.Library()


@register.filter
def mm_in(mm: Fraction | None, unit: str) -> str:
    """{{ reading.value|mm_in:"in" }}: exact millimetres in the drawing's unit, and in brackets in the other one."""
    return "" if mm is None else in_both(mm, unit)
