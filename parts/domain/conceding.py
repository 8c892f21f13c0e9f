"""What is never let go back outside its limits. Common practice, no source; the local code may be stricter still."""

from .plain import mentions

NEVER = ("axle", "crank pin", "tyre", "tire", "wheelset")
"""At the end of the name of a place: "crank axle" and "tender tyre", but not "axlebox" nor "tyre set screws". The sizes
of a whole wheelset are those of its axle, its pins and its tyres."""


def never_conceded(name: str) -> bool:
    """Whether no size outside its limits is let go back on a place of that name."""
    return mentions(name, NEVER, last=True)
