"""Whose work the lists show somebody: their own, or everybody's. Kept for the person, until they say otherwise."""

from ..domain.ranking import WORK, needs_of

MINE, ALL = SHOWN = ("mine", "all")


def shown(request) -> str:
    """A role whose work is in no list, a trustee's, sees everything."""
    if not needs_of(request.user.role_names):
        return ALL
    return request.user.lists


def needs_shown(request) -> frozenset[str]:
    return WORK if shown(request) == ALL else needs_of(request.user.role_names)
