"""How a number of consumables is written."""

from django import template

from parts.domain import consumables

register = template.Library()


@register.filter
def counted(number: int, unit: str) -> str:
    """{{ stock.in_stock|counted:stock.unit }}: '4', or '4 m'."""
    return consumables.counted(number, unit)
