"""A piece that the register knows comes off: what is found on it is written down in the same transaction."""

from parts.actions import writing
from parts.actions.perform import perform
from parts.entering.writers.pieces import describe


def strip_from_place(component, actor, given, *, seen=None, location=None, **described) -> None:
    """Strip a piece from in place or refitted; marks, packing and way round are recorded with it, or not at all."""
    with writing.one_transaction():
        perform("strip", component, actor, given, seen=seen, location=location)
        if described:
            describe(component, actor, **described)
