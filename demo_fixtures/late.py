"""What places need, worked out when it is next read: after each of two thousand actions it would take half the time."""

from collections.abc import Iterator
from contextlib import contextmanager

from parts.actions import writing
from parts.domain.words import Action

READS = frozenset({Action.ACCEPT, Action.PASS, Action.REFIT})
"""Actions that look at how other places stand: those inside a piece, its matched set, and what it goes on after."""


class Standings:
    """The places whose stored standing is behind."""

    def __init__(self, work_out):
        self.behind: set[int] = set()
        self.work_out = work_out

    def note(self, *position_ids: int | None) -> int:
        self.behind.update(pk for pk in position_ids if pk)
        return 0

    def catch_up(self) -> None:
        behind, self.behind = self.behind, set()
        self.work_out(*behind)


@contextmanager
def standings_told_late() -> Iterator[Standings]:
    """Every action only notes which places it touched; at the latest all are worked out at the end."""
    standings = Standings(writing.refresh)
    writing.refresh = standings.note
    try:
        yield standings
        standings.catch_up()
    finally:
        writing.refresh = standings.work_out
