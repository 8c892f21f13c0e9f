"""Constraints said once for many fields."""

from django.db.models import CheckConstraint, Q


def known(field: str, words, name: str, *, blank: bool = False, null: bool = False) -> CheckConstraint:
    """The database takes only these words in the field."""
    allowed = [word.value for word in words] + ([""] if blank else [])
    condition = Q(**{f"{field}__in": allowed})
    if null:
        condition |= Q(**{f"{field}__isnull": True})
    return CheckConstraint(condition=condition, name=name)


def together(first: str, second: str, name: str) -> CheckConstraint:
    """Both fields are filled, or neither: no half-signed record."""
    both = Q(**{f"{first}__isnull": False, f"{second}__isnull": False})
    neither = Q(**{f"{first}__isnull": True, f"{second}__isnull": True})
    return CheckConstraint(condition=both | neither, name=name)


def at_most_one(fields: list[str], name: str) -> CheckConstraint:
    """No more than one of these references is filled."""
    condition = Q()
    for chosen in fields:
        condition |= Q(**{f"{other}__isnull": True for other in fields if other != chosen})
    return CheckConstraint(condition=condition, name=name)
