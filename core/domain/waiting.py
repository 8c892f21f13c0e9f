"""How long somebody waits after wrong tries: nothing at first, then ever longer, and never for long.

The limits are common practice, no source: they leave a person with cold fingers alone, and a guesser too few tries to
get through four digits in a week.
"""

from dataclasses import dataclass

from parts.domain.plain import several

FORGOTTEN_AFTER_S = 12 * 60 * 60


@dataclass(frozen=True)
class Limit:
    """So many tries are free; the next waits `first_s`, and each one after it twice as long, up to `most_s`."""

    free: int
    first_s: int
    most_s: int


NAME_AT_ADDRESS = Limit(free=5, first_s=10, most_s=300)
NAME = Limit(free=20, first_s=5, most_s=30)
"""From anywhere. Short, since a stranger's guessing must not keep the person out."""
ADDRESS = Limit(free=30, first_s=5, most_s=60)
PIN = Limit(free=4, first_s=15, most_s=600)
"""Of one person at one tablet."""
CODE = Limit(free=10, first_s=10, most_s=120)
"""Codes of cards and invitations, from one address."""


def wait_s(limit: Limit, failures: int) -> int:
    """The whole wait after so many failures.

    >>> [wait_s(Limit(free=3, first_s=10, most_s=60), n) for n in (0, 2, 3, 4, 5, 6, 99)]
    [0, 0, 10, 20, 40, 60, 60]
    """
    if failures < limit.free:
        return 0
    doubled: int = 2 ** min(failures - limit.free, 20)
    return min(limit.first_s * doubled, limit.most_s)


def left_s(limit: Limit, failures: int, since_s: float) -> int:
    """What is left of the wait. A clock that was set back must not make it longer, so the sign of `since_s` is no
    matter."""
    left = wait_s(limit, failures) - abs(since_s)
    return max(0, int(left) + (left > int(left)))


def still_counts(since_s: float) -> bool:
    return abs(since_s) < FORGOTTEN_AFTER_S


def in_words(seconds: int) -> str:
    """
    >>> in_words(1), in_words(40), in_words(61), in_words(600)
    ('1 second', '40 seconds', '2 minutes', '10 minutes')
    """
    if seconds <= 60:
        return several(seconds, "second")
    return f"{-(-seconds // 60)} minutes"
