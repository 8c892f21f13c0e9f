"""What is free of people and machines, in many runs at once, and the earliest time for the next in the queue. numpy.

Each column is a run. A run's free units change at moments in `times`; `free` holds from one moment to the next. As in
`scheduling`, the units of many resources share one whole number, a field of bits for each with a guard bit on top.
"""

from collections.abc import Mapping

import numpy as np

from parts.domain.opening import Presence

NEVER = 1 << 30
ROWS = 128
"""Moments kept in each run. The earliest are forgotten and count as taken, which makes the end of 800 jobs about one in
a hundred later than with all of them, and takes half the time (measured)."""
BITS = 62


class Fields:
    """Where each resource has its bits: in which word, and how far up."""

    def __init__(self, capacities: Mapping[str, int]):
        self.place: dict[str, tuple[int, int]] = {}
        self.guards = [0]
        top = 0
        for name, capacity in capacities.items():
            width = capacity.bit_length() + 1
            if top + width > BITS:
                self.guards.append(0)
                top = 0
            self.place[name] = len(self.guards) - 1, top
            self.guards[-1] |= 1 << (top + width - 1)
            top += width

    def packed(self, units: Mapping[str, np.ndarray | int]) -> dict[int, np.ndarray | int]:
        """By word, these units each in its field."""
        words: dict[int, np.ndarray | int] = {}
        for name, count in units.items():
            word, shift = self.place[name]
            shifted: np.ndarray = (np.int64(1) << shift) * np.asarray(count)
            words[word] = words.get(word, 0) + shifted
        return words


class Queues:
    """All resources in a number of runs, from minute 0 on."""

    def __init__(self, fields: Fields, free: Mapping[str, np.ndarray | int], runs: int, *, at_once: int = 0):
        """`free` are the units of each resource, in each run or in all; so many jobs `at_once` can be under way."""
        rows = max(ROWS, 3 * at_once)
        self.fields = fields
        self.guards = [np.int64(guard) for guard in fields.guards]
        self.times = np.full((rows, runs), NEVER, np.int32)
        self.times[0] = 0
        words = fields.packed(free)
        self.free = [np.empty((rows, runs), np.int64) for _ in self.guards]
        for word, array in enumerate(self.free):
            array[:] = words.get(word, 0) + self.guards[word]
        self.used = 1

    def claim(
        self, ready: np.ndarray, minutes: np.ndarray, needs: Mapping[str, np.ndarray | int], presence: Presence | None
    ) -> tuple[np.ndarray, np.ndarray]:
        """Start and finish of a job at the earliest time when all it needs is free throughout, which is then taken.

        In runs in which it takes no time it starts when it is ready and takes nothing.
        """
        words = self.fields.packed(needs)
        start = self._earliest(ready, minutes, words, presence)
        start = np.where(minutes > 0, start, ready).astype(np.int32)
        finish = start + minutes
        if presence:
            count = presence.worked(start)
            there = presence.nth(count)
            last = presence.nth(count + np.maximum(minutes, 1) - 1)
            start = np.where(minutes > 0, there, start).astype(np.int32)
            finish = np.where(minutes > 0, last + 1, start).astype(np.int32)
        self._take(start, finish, words, minutes > 0)
        return start, finish

    def _earliest(
        self,
        ready: np.ndarray,
        minutes: np.ndarray,
        words: Mapping[int, np.ndarray | int],
        presence: Presence | None,
    ) -> np.ndarray:
        latest = self.times[: self.used].max(axis=1)
        first = max(int(np.searchsorted(latest, ready.min(), "right")) - 1, 0)
        times = self.times[first : self.used]
        blocked = np.zeros(times.shape, bool)
        for word, need in words.items():
            guard = self.guards[word]
            blocked |= ((self.free[word][first : self.used] - need) & guard) != guard
        until = np.where(blocked, times, np.int32(NEVER))
        step = 1
        while step < len(
            until
        ):  # the least from each row on, as minimum.accumulate has it and in a quarter of its time
            np.minimum(until[:-step], until[step:], out=until[:-step])
            step *= 2
        begin = np.maximum(times, ready)
        if presence:
            fits = presence.worked(begin) + minutes <= presence.worked(until)
        else:
            fits = until - begin >= minutes
        earliest: np.ndarray = np.where(fits, begin, np.int32(NEVER)).min(axis=0)
        return earliest

    def _take(
        self, start: np.ndarray, finish: np.ndarray, words: Mapping[int, np.ndarray | int], takes: np.ndarray
    ) -> None:
        if not takes.any():
            return
        self._make_room()
        first = self._moment(start, takes)
        last = self._moment(finish, takes)
        low, high = int(first[takes].min()), int(last[takes].max())
        rows = np.arange(low, high)[:, None]
        held = (rows >= first) & (rows < last) & takes
        for word, need in words.items():
            self.free[word][low:high] -= held * need

    def _moment(self, at: np.ndarray, takes: np.ndarray) -> np.ndarray:
        """The row of this moment in each run, put in where it was missing."""
        times = self.times[: self.used]
        row: np.ndarray = np.add.reduce(times < at, axis=0, dtype=np.int16)
        runs = np.arange(len(at))
        missing = takes & (self.times[row, runs] != at)
        if missing.any():
            low = int(row[missing].min())
            later = (np.arange(low, self.used + 1)[:, None] >= row) & missing
            arrays: list[np.ndarray] = [self.times, *self.free]
            for array in arrays:
                array[low + 1 : self.used + 1] = np.where(
                    later[:-1], array[low : self.used], array[low + 1 : self.used + 1]
                )
            where = row[missing], runs[missing]
            self.times[where] = at[missing]
            for array in self.free:
                array[where] = array[where[0] - 1, where[1]]
            self.used += bool((self.times[self.used] < NEVER).any())
        return row

    def _make_room(self) -> None:
        """For two more moments in every run. A run that has no room forgets its earliest."""
        full = self.times[-2] < NEVER
        if full.any():
            gone = len(self.times) // 4
            arrays: list[np.ndarray] = [self.times, *self.free]
            for array in arrays:
                array[:-gone, full] = array[gone:, full]
            self.times[-gone:, full] = NEVER
            self.used = int(np.count_nonzero((self.times < NEVER).any(axis=1)))
