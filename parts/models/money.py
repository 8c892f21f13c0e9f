"""Sums of money as the register keeps them: exact decimals with the three letters of their currency (ISO 4217)."""

from django.db import models
from django.db.models import CheckConstraint, Q

COSTS = ("estimate", "committed", "actual")


def cost(label: str) -> models.DecimalField:
    return models.DecimalField(label, max_digits=12, decimal_places=2, null=True, blank=True)


def currency() -> models.CharField:
    return models.CharField(max_length=3, default="GBP")


def never_negative(fields: tuple[str, ...], name: str) -> CheckConstraint:
    """None of these is less than nothing."""
    condition = Q()
    for field in fields:
        condition &= Q(**{f"{field}__isnull": True}) | Q(**{f"{field}__gte": 0})
    return CheckConstraint(condition=condition, name=name)


def after_the_order(end: str, name: str) -> CheckConstraint:
    """Promised or done on the day of the order or later."""
    condition = Q(ordered__isnull=True) | Q(**{f"{end}__isnull": True}) | Q(**{f"{end}__gte": models.F("ordered")})
    return CheckConstraint(condition=condition, name=name)
