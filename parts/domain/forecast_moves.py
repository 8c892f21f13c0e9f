"""How the forecasts that were kept moved, as a picture of 720 by 240 and in words, and how right they were. Pure."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from .curves import APART, FOOT, LEFT, RIGHT, TOP, ScaleMark
from .forecast_words import Kept
from .plain import day as told
from .plain import several

MONTH, WEEK = 30, 7
MOVED = 7
"""Fewer days than this are no move worth a word, nor a subassembly's name. Common practice, no source."""
NAMED = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Moves:
    """Left to right the days on which forecasts were kept, upwards the days that they named. `band` goes from half to
    nine in ten, `half` is a line, and each forecast is a stroke between both: x, top and foot."""

    band: str
    half: str
    strokes: list[tuple[int, int, int]]
    scale: list[ScaleMark]
    days: list[ScaleMark]
    ends: list[ScaleMark]


def moves(kept: Sequence[Kept]) -> Moves | None:
    """Of two forecasts with a date, or more. One that is later than the known open days goes to the upper edge."""
    dated = [each for each in kept if each.half]
    if len(dated) < 2:
        return None
    named = [day for each in dated for day in (each.half, each.nine_in_ten) if day]
    first, last, begin = min(named), max(named), dated[0].on
    span, days = max((last - first).days, 1), max((dated[-1].on - begin).days, 1)

    def up(day: date | None) -> int:
        return TOP if day is None else round(FOOT - (FOOT - TOP) * (day - first).days / span)

    across = [round(LEFT + (RIGHT - LEFT) * (each.on - begin).days / days) for each in dated]
    halves, nines = [up(each.half) for each in dated], [up(each.nine_in_ten) for each in dated]
    there = [f"{x} {y}" for x, y in zip(across, halves, strict=True)]
    back = [f"{x} {y}" for x, y in reversed(list(zip(across, nines, strict=True)))]
    return Moves(
        band=f"M{'L'.join(there + back)}Z",
        half=f"M{'L'.join(there)}",
        strokes=list(zip(across, nines, halves, strict=True)),
        scale=_scale(first, last, up),
        days=[ScaleMark(at=x, words=told(on)) for x, on in ((across[0], begin), (across[-1], dated[-1].on))],
        ends=[
            ScaleMark(at=max(halves[-1], nines[-1] + APART), words="half"),
            ScaleMark(at=nines[-1], words="nine in ten"),
        ],
    )


def _scale(first: date, last: date, up: Callable[[date | None], int]) -> list[ScaleMark]:
    """The first of so few months that there are at most six."""
    months = (last.year - first.year) * 12 + last.month - first.month
    step = next((step for step in (1, 2, 3, 6, 12) if months // step <= 5), 24)
    number = first.year * 12 + first.month
    starts = [date(n // 12, n % 12 + 1, 1) for n in range(number, number + months) if n % step == 0]
    return [ScaleMark(at=up(day), words=f"{day:%b %y}") for day in starts if first <= day <= last]


# --- in words


def moved(before: Kept | None, now: Kept) -> str:
    """By how much half of the runs moved since the forecast before.

    >>> early = Kept(date(2026, 1, 1), date(2027, 1, 1), None, {})
    >>> moved(early, Kept(date(2026, 2, 1), date(2027, 4, 3), None, {})), moved(None, early)
    ('3 months later', '')
    """
    if before is None or before.half is None or now.half is None:
        return ""
    days = (now.half - before.half).days
    if abs(days) < MOVED:
        return "as before"
    size = abs(days)
    many = several(round(size / MONTH), "month") if size >= 2 * MONTH else several(round(size / WEEK), "week")
    return f"{many} {'later' if days > 0 else 'earlier'}"


def moved_most(before: Kept | None, now: Kept, names: Mapping[str, str]) -> list[str]:
    """The subassemblies whose own half moved most, the same way as the whole."""
    if before is None or before.half is None or now.half is None:
        return []
    way = 1 if now.half > before.half else -1
    found = []
    for code, (half, _) in now.subassemblies.items():
        was = before.subassemblies.get(code, (None, None))[0]
        if half and was and (by := (half - was).days * way) >= MOVED:
            found.append((by, names.get(code, code)))
    return [name for _, name in sorted(found, key=lambda one: (-one[0], one[1]))[:NAMED]]


def days_between(before: Kept | None, now: Kept) -> int:
    """By how many days half of the runs moved; 0 where nobody can say."""
    return (now.half - before.half).days if before and before.half and now.half else 0


def assumed_anew(before: Kept | None, now: Kept) -> list[str]:
    """What it assumes of people and of their pace, and did not before. They stand behind the open days."""
    return [each for each in now.assumes[1:3] if before and before.assumes and each not in before.assumes]


# --- how right they were


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """A subassembly that has no work left by now, and the first forecast of it. It was together at the latest on the
    day of the first forecast that no longer named it."""

    code: str
    half: date | None
    nine_in_ten: date | None
    together: date

    @property
    def by_half(self) -> bool:
        return self.half is None or self.together <= self.half

    @property
    def by_nine_in_ten(self) -> bool:
        return self.nine_in_ten is None or self.together <= self.nine_in_ten


def record(kept: Sequence[Kept], now: Iterable[str], today: date) -> list[Together]:
    """How right the first forecast of each subassembly was that has no work left by now.

    >>> early = Kept(date(2026, 1, 1), None, None, {"cab": (date(2026, 3, 1), date(2026, 5, 1))})
    >>> [(each.by_half, each.by_nine_in_ten) for each in record([early], [], date(2026, 4, 1))]
    [(False, True)]
    """
    left, found = set(now), []
    for code in dict.fromkeys(code for each in kept for code in each.subassemblies if code not in left):
        first = next(each for each in kept if code in each.subassemblies)
        last = max(each.on for each in kept if code in each.subassemblies)
        together = next((each.on for each in kept if each.on > last), today)
        half, nine = first.subassemblies[code]
        found.append(Together(code=code, half=half, nine_in_ten=nine, together=together))
    return found
