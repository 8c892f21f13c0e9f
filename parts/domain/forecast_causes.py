"""Why a forecast moved, in causes that somebody can repeat: what happened between two that were kept. Pure.

No run is made again to weigh them: a promise is told with the days by which it moved, the rest is counted. What pushes
the way of the move comes first, promises and guesses ahead of all else. Common practice, no source.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from .plain import capital, day, several

LATER, EITHER, EARLIER = 1, 0, -1
MOST = 4
WEEK = 7
IN_DAYS = 14
"""Shorter moves of a promise are told in days."""
NAMED = 3
"""So many sorts of pieces are named; the rest are counted."""
SMALL = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


PACE = re.compile(r"(\d+) steps? were done on (\d+) open days?")
PACE_MOVED = 0.05
"""A smaller change of the pace is none. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """The first and the last day that somebody promised something for, between the two forecasts."""

    of: str
    what: str
    old: date | None
    new: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One sentence without its stop. `way`: it makes the date later or earlier, or nobody can say."""

    words: str
    way: int = EITHER
    rank: int = 9  # less comes first
    size: int = 0  # of equals, the larger comes first


def number(count: int) -> str:
    """
    >>> number(6), number(13)
    ('six', '13')
    """
    return SMALL[count] if count < len(SMALL) else str(count)


def promises(moved: Iterable[Moved]) -> list[Cause]:
    """What one firm moved from the same day to the same day is one cause."""
    alike: defaultdict[tuple[str, date | None, date | None], list[str]] = defaultdict(list)
    for one in moved:
        alike[one.of, one.old, one.new].append(one.what)
    found = [promise(of, _the(things), old, new) for (of, old, new), things in alike.items()]
    return [cause for cause in found if cause]


def _the(things: Sequence[str]) -> str:
    more = [f"{number(len(things) - NAMED + 1)} more"] if len(things) > NAMED else []
    shown = things[: NAMED - 1] if more else things
    return _and([shown[0], *(f"the {thing}" for thing in shown[1:]), *more])


def pace_told(steps: int, days: int) -> str:
    """As `pace` reads it again in what a kept forecast assumed."""
    return f"{several(steps, 'step')} were done on {several(days, 'open day')}"


def pace(before: Iterable[str], now: Iterable[str]) -> Cause | None:
    """From what each of the two forecasts assumed.

    >>> pace(["222 steps were done on 37 open days."], ["182 steps were done on 39 open days."]).words
    'the pace fell: 182 steps in the ninety days before it, and 222 before the earlier forecast'
    """
    found = [PACE.search(" ".join(assumed)) for assumed in (before, now)]
    if not all(found):
        return None
    (was, was_days), (did, days) = ((int(one[1]), int(one[2])) for one in found if one)
    if not (was and was_days and days) or abs(did / days / (was / was_days) - 1) < PACE_MOVED:
        return None
    fell = did / days < was / was_days
    words = f"the pace {'fell' if fell else 'rose'}: {did} steps in the ninety days before it"
    return Cause(
        words=f"{words}, and {was} before the earlier forecast", way=LATER if fell else EARLIER, rank=1, size=99
    )


def promise(of: str, what: str, old: date | None, new: date | None) -> Cause | None:
    """Of a firm, from its first word to its last between the two forecasts; nothing where it came back to the same.

    >>> promise("Invented Foundry", "cylinder casting", date(2027, 3, 8), date(2027, 4, 26)).words
    'Invented Foundry moved the cylinder casting from March to April: +7 weeks'
    """
    who = of or "Nobody named"
    if old == new:
        return None
    if new is None:
        return Cause(words=f"{who} no longer promises a day for the {what}", way=LATER, rank=0)
    if old is None:
        return Cause(words=f"{who} promised the {what} for {day(new)}", rank=2)
    days = (new - old).days
    return Cause(
        words=f"{who} moved the {what} {_from_to(old, new)}: {_by(days)}",
        way=LATER if days > 0 else EARLIER,
        rank=0,
        size=abs(days),
    )


def _from_to(old: date, new: date) -> str:
    if (old.year, old.month) == (new.year, new.month):
        return f"from {old.day} to {new.day} {new:%B}"
    year = old.year != new.year
    return f"from {old:%B %Y} to {new:%B %Y}" if year else f"from {old:%B} to {new:%B}"


def _by(days: int) -> str:
    sign, size = "+" if days > 0 else "-", abs(days)
    return f"{sign}{several(size, 'day') if size < IN_DAYS else several(round(size / WEEK), 'week')}"


def guess(name: str, old: float | None, new: float) -> Cause | None:
    """How many open days the work left was likely to take, as it was guessed.

    >>> guess("Frames", 20, 32).words, guess("Frames", None, 32).words
    ('the guess for Frames went from 20 to 32 open days', 'Frames was guessed at 32 open days')
    """
    if old is None:
        return Cause(words=f"{name} was guessed at {_days(new)}", rank=2)
    if old == new:
        return None
    way = LATER if new > old else EARLIER
    words = f"the guess for {name} went from {old:g} to {_days(new)}"
    return Cause(words=words, way=way, rank=1, size=round(abs(new - old)))


def _days(days: float) -> str:
    return f"{days:g} open day{'' if days == 1 else 's'}"


def counted(names: Iterable[str], one: str, many: str, way: int, rank: int) -> Cause | None:
    """
    >>> counted(["axlebox"] * 6 + ["horn stay"], "was accepted", "were accepted", EARLIER, 6).words
    'six axleboxes and one horn stay were accepted'
    """
    found = Counter(names)
    if not found:
        return None
    ordered = sorted(found.items(), key=lambda each: (-each[1], each[0]))
    told = [f"{number(count)} {_plural(name, count)}" for name, count in ordered[:NAMED]]
    if left := sum(count for _, count in ordered[NAMED:]):
        told.append(f"{number(left)} more")
    total = sum(found.values())
    return Cause(words=f"{_and(told)} {one if total == 1 else many}", way=way, rank=rank, size=total)


def _and(words: Sequence[str]) -> str:
    return " and ".join(filter(None, [", ".join(words[:-1]), words[-1]]))


def _plural(name: str, count: int) -> str:
    """Of the noun before a comma: 'axleboxes', 'horn stays, LH'."""
    if count == 1:
        return name
    noun, comma, rest = name.partition(",")
    if noun.endswith("s") and not noun.endswith("ss"):
        return name
    ending = "es" if noun.endswith(("x", "s", "ch", "sh")) else "s"
    if noun.endswith("y") and noun[-2:-1] not in "aeiou":
        noun, ending = noun[:-1], "ies"
    return f"{noun}{ending}{comma}{rest}"


def cracks(count: int) -> Cause | None:
    """
    >>> cracks(2).words, cracks(1).words
    ('two more cracks were found', 'one more crack was found')
    """
    if not count:
        return None
    words = f"{number(count)} more {'crack was' if count == 1 else 'cracks were'} found"
    return Cause(words=words, way=LATER, rank=3, size=count)


def why(causes: Sequence[Cause], days: int) -> list[str]:
    """Sentences for a move by so many days, later above 0: first what pushes that way, then what nobody can say, then
    what works against it.

    >>> later = Cause(words="two more cracks were found", way=LATER)
    >>> why([Cause(words="six axleboxes were accepted", way=EARLIER), later], 21)
    ['Two more cracks were found.', 'Against that: six axleboxes were accepted.']
    """
    way = LATER if days > 0 else EARLIER if days < 0 else EITHER
    ordered = sorted(causes, key=lambda cause: (cause.way * way < 0, cause.way != way, cause.rank, -cause.size))
    for_it = [cause for cause in ordered if not (way and cause.way == -way)]
    against = [cause.words for cause in ordered if way and cause.way == -way]
    told = [f"{capital(cause.words)}." for cause in for_it[:MOST]]
    if len(for_it) > MOST:
        told.append(f"And {several(len(for_it) - MOST, 'thing')} more.")
    return told + ([f"Against that: {_and(against[:2])}."] if against else [])
