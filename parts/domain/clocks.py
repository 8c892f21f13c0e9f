"""Clocks in sheds jump. Events stand in the order of their numbers; where their times differ, the page says so."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

SLIP = timedelta(minutes=1)
"""Less than this is no clock set back. Common practice, no source."""


def clock_trouble(newest_first: Sequence[datetime], now: datetime) -> str:
    """What a reader of these events must know about their times; nothing while they agree with their order."""
    if newest_first and newest_first[0] > now + SLIP:
        return (
            "The clock of the computer that serves Cotter is behind: the last of these is dated later than now. "
            "Have it set right. They are listed in the order in which they happened."
        )
    if any(older > newer + SLIP for newer, older in pairwise(newest_first)):
        return (
            "The clock of the computer that serves Cotter was set back between two of these. "
            "They are listed in the order in which they happened, whatever their times say."
        )
    return ""
