"""A clock that the demo sets, and the codes on its tags: what is built today looks as if it had taken a year.

Every record asks `django.utils.timezone.now`, and many fields hold on to that function itself; all of them reach the
time through the name `datetime` in its module, so that name is what is replaced.
"""

import heapq
import random
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, time, timedelta
from typing import Any

from django.utils import timezone

from parts.actions import tags as tagging
from parts.domain.tagcodes import new_code

Story = Iterator[int]
"""What happens to one thing, told in order; before each thing it yields how many days ago that happened."""

OPENS, CLOSES = time(8), time(17)
BREATH = timedelta(seconds=40)  # no two things happen at one moment


class Clock:
    """The time that the demo has reached, and its dice."""

    def __init__(self, *, begins: int, seed: int):
        self.random = random.Random(seed)
        self.real = datetime.now(tz=timezone.get_current_timezone())
        self.now = self._at(begins, OPENS)

    def ago(self, days: int) -> date:
        """The day that is so many days before the real today; a negative number gives a day to come."""
        return self.real.date() - timedelta(days=days)

    def tell(self, stories: Iterable[Story]) -> None:
        """Tell all stories together, each thing at its time, so that the log is in the order of the days."""
        waiting: list[tuple[datetime, int, Story]] = []
        for number, story in enumerate(stories):
            self._wait(waiting, number, story)
        while waiting:
            at, number, story = heapq.heappop(waiting)
            self.now = max(at, self.now + BREATH)
            self._wait(waiting, number, story)

    def _wait(self, waiting, number, story) -> None:
        """Let the story do what it has announced, and hear when the next thing happens."""
        days = next(story, None)
        if days is not None:
            heapq.heappush(waiting, (max(self._some_time(days), self.now), number, story))

    def _some_time(self, days: int) -> datetime:
        minutes = self.random.randrange((CLOSES.hour - OPENS.hour) * 60)
        return self._at(days, OPENS) + timedelta(minutes=minutes)

    def _at(self, days: int, hour: time) -> datetime:
        return timezone.make_aware(datetime.combine(self.ago(days), hour))


@contextmanager
def told_time(clock: Clock):
    """All that asks for the time is told the clock's."""

    class Told(datetime):
        @classmethod
        def now(cls, tz=None):
            return clock.now.astimezone(tz)

    asked: Any = timezone  # what it calls `datetime` is its own affair, so mypy does not know of it
    kept, asked.datetime = asked.datetime, Told
    try:
        yield
    finally:
        asked.datetime = kept


@contextmanager
def same_codes(seed: int):
    """Tags get the same codes in every demo, so that papers can name them."""
    dice = random.Random(seed)
    asked: Any = tagging  # it imports the name, and nobody else is to use it from there
    kept, asked.new_code = asked.new_code, lambda: new_code(dice.randrange)
    try:
        yield
    finally:
        asked.new_code = kept
