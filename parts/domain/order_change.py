"""What a change of the order of assembly makes clear or blocks, in sentences, and when what follows could be together.
Pure: readiness and forecast before and after it."""

from collections.abc import Iterator, Mapping
from datetime import date

from .forecast import Forecast, Outlook
from .forecast_words import told
from .plain import listed, several
from .readiness import Readiness, SubReadiness

MOVED = 7
"""Fewer days are no move worth a word. Common practice, no source."""
NAMED = 3


def dates(was: Forecast, then: Forecast, names: Mapping[str, str], today: date) -> Iterator[str]:
    """When the whole could be done with it, and those of its subassemblies whose half moves most."""
    if was.whole is None or then.whole is None:
        return
    yield _dated("The whole locomotive", was.whole, then.whole, today)
    moved = [
        (abs((now.half - before.half).days), code)
        for code, now in then.subassemblies.items()
        if (before := was.subassemblies.get(code)) and before.half and now.half
    ]
    for days, code in sorted(moved, reverse=True)[:NAMED]:
        if days >= MOVED:
            yield _dated(names.get(code, code), was.subassemblies[code], then.subassemblies[code], today)
    yield f"A forecast and no promise. {' '.join(then.assumes[:2])}"


def _dated(name: str, was: Outlook, then: Outlook, today: date) -> str:
    half, nine = told(then.half, today), told(then.nine_in_ten, today)
    before = f"{told(was.half, today)} and {told(was.nine_in_ten, today)}"
    as_before = "as without it" if before == f"{half} and {nine}" else f"without it {before}"
    return f"{name}: half of the runs are done by {half}, nine in ten by {nine}; {as_before}."


def changes(before: Readiness, then: Readiness) -> list[str]:
    """Nothing of it concerns what is complete already."""
    was = {sub.sub.id: sub for sub in before.subassemblies}
    pairs = [(was[sub.sub.id], sub) for sub in then.subassemblies if sub.sub.id in was and not sub.complete]
    clear = [new.sub.name for old, new in pairs if new.clear_to_assemble and not old.clear_to_assemble]
    blocked = [new.sub.name for old, new in pairs if old.clear_to_assemble and not new.clear_to_assemble]
    found = [f"Clear to assemble by it: {listed(clear)}."] if clear else []
    found += [f"No longer clear to assemble: {listed(blocked)}."] if blocked else []
    for old, new in pairs:
        found += _waits(old, new, then)
    return found


def _waits(old: SubReadiness, new: SubReadiness, found: Readiness) -> Iterator[str]:
    names = {id: sub.name for id, sub in found.order.by_id.items()}
    before = {wait.id: wait.places for wait in old.waits if wait.places}
    then = {wait.id: wait.places for wait in new.waits if wait.places}
    for id, places in then.items():
        if id not in before:
            yield (
                f"{new.sub.name} waits for {names[id]}, where {several(places, 'place is', 'places are')} not refitted."
            )
        elif before[id] != places:
            lacking = several(places, "place is", "places are")
            yield f"{new.sub.name} waits for {lacking} of {names[id]}, and not {before[id]}."
    for id in before:
        if id not in then:
            yield f"{new.sub.name} waits no longer for {names[id]}."
