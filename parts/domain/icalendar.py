"""A calendar as a file that calendars subscribe to: iCalendar, RFC 5545 (2009). Whole days only. Pure."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

PRODUCT = "-//Cotter//Days//EN"
LONGEST_OCTETS = 75
"""Of a line, without its break: RFC 5545, section 3.1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One whole day. `uid` stays the same as long as it is the same thing, so that a later file replaces it."""

    uid: str
    day: date
    summary: str
    url: str = ""


def calendar(name: str, entries: Iterable[Entry], now: datetime) -> str:
    """`now` in UTC: when it was made."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN", f"NAME:{escaped(name)}"]
    for entry in entries:
        lines += _event(entry, now)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in fold(line))


def _event(entry: Entry, now: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{escaped(entry.uid)}"
    yield f"DTSTAMP:{now:%Y%m%dT%H%M%SZ}"
    yield f"DTSTART;VALUE=DATE:{_day(entry.day)}"
    if entry.day < date.max:  # without an end it is one day all the same: section 3.6.1
        yield f"DTEND;VALUE=DATE:{_day(entry.day + timedelta(1))}"  # the day after
    yield f"SUMMARY:{escaped(entry.summary)}"
    if entry.url:
        yield f"URL:{entry.url}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _day(day: date) -> str:
    """Eight figures, of the year 26 too: 3.3.4."""
    return day.isoformat().replace("-", "")


def escaped(text: str) -> str:
    r"""Section 3.3.11.

    >>> escaped("Axlebox, LH; back\nsoon")
    'Axlebox\\, LH\\; back\\nsoon'
    """
    for character in "\\;,":
        text = text.replace(character, f"\\{character}")
    kept = (c for c in text.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\\n") if c >= " ")
    return "".join(kept)


def fold(line: str) -> Iterator[str]:
    """Lines of at most 75 octets, no character cut; each after the first begins with a blank. Section 3.1."""
    now, size = "", 0
    for character in line:
        octets = len(character.encode())
        if size + octets > LONGEST_OCTETS:
            yield now
            now, size = " ", 1
        now, size = now + character, size + octets
    yield now
