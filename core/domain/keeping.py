"""Which of the backups that were made by night are kept: the last nights, then one a week, then one a month."""

from collections.abc import Iterable
from datetime import datetime, time, timedelta

NIGHTS, WEEKS, MONTHS = 7, 4, 6
"""Common practice, no source: a slip is noticed within days, a rewritten past within months."""
AT = time(2)
"""When a night's backup is due; a computer that is off then makes it as soon as it is on."""


def is_due(now: datetime, made: Iterable[datetime]) -> bool:
    """Whether none was made since the last night began. One dated in the future, by a clock that was wrong, is none."""
    night = datetime.combine(now.date(), AT)
    if night > now:
        night -= timedelta(days=1)
    return not any(night <= at <= now for at in made)


def to_drop(made: Iterable[datetime], just_made: datetime) -> set[datetime]:
    """Those that are let go. The one just made never is, whatever the clock said when it was made."""
    newest_first = sorted(made, reverse=True)
    kept = {*newest_first[:NIGHTS], just_made}
    for most, of_one in ((WEEKS, lambda at: at.isocalendar()[:2]), (MONTHS, lambda at: (at.year, at.month))):
        latest: dict[tuple[int, ...], datetime] = {}
        for at in newest_first:
            latest.setdefault(of_one(at), at)
        kept |= set(list(latest.values())[:most])
    return set(newest_first) - kept
