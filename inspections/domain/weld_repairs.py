"""The crack checks that a repair by welding calls for. The weld procedure and the competent person go before it.

What is checked when is common practice, no source. The wait before the finished weld is looked at is for cracks that
hydrogen opens hours or days later; how long it is stands in the weld procedure.
"""

from collections.abc import Iterable
from typing import NamedTuple

STRESS_RELIEF, FINAL_MACHINING = "stress relief", "final machining"


class WeldCheck(NamedTuple):
    code: str  # the stage, as a crack check is stored with it
    sentence: str


ALWAYS = (
    WeldCheck("excavation", "The excavation, before any welding: the whole of the crack is out."),
    WeldCheck("finished weld", "The finished weld and the metal beside it, after the wait that its procedure gives."),
)
AFTER = {
    STRESS_RELIEF: WeldCheck("after stress relief", "Again after stress relief."),
    FINAL_MACHINING: WeldCheck("after final machining", "Again after final machining, on the surface as it will run."),
}


def weld_repair_checks(after: Iterable[str] | str = ()) -> list[WeldCheck]:
    """The checks in their order. `after` says what is done to the weld afterwards: stress relief, final machining."""
    later = {after} if isinstance(after, str) else set(after)
    unknown = sorted(later - AFTER.keys() - {""})
    if unknown:
        raise ValueError(f"What is done after welding is {' or '.join(AFTER)}, not {unknown[0]!r}.")
    return [*ALWAYS, *(check for name, check in AFTER.items() if name in later)]
