"""What a change of the order of assembly makes clear or blocks, in sentences. Pure: readiness before and after it."""

from collections.abc import Iterator

from .plain import listed, several
from .readiness import Readiness, SubReadiness


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
