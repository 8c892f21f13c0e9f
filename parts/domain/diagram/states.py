"""How a part of the drawing looks for how far its pieces are: the line round it, the hatch, the solid."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from operator import attrgetter

from .engine import SubassemblyCounts

COUNTS = ("required", "refitted", "ready", "in_place", "missing", "in_doubt")
counted = attrgetter(*COUNTS)


class LineStyle(StrEnum):
    """The line round a part says what has become of most of the pieces that are neither refitted nor ready."""

    MISSING = "missing"  # chain-dashed: nothing there to put in
    OFF = "off"  # dashed: off the locomotive and in hand
    IN_PLACE = "in-place"  # thin: on the locomotive, not yet dealt with
    PARTLY = "partly"  # thin: everything is refitted or ready
    COMPLETE = "complete"  # heavy: everything is refitted, nothing in doubt


@dataclass(frozen=True, slots=True)
class PartCounts:
    """The counts of one part of the drawing, added up over its subassemblies."""

    required: int
    refitted: int
    ready: int
    in_place: int
    missing: int
    in_doubt: int

    @property
    def blocked(self) -> int:
        return self.required - self.refitted - self.ready

    @property
    def off(self) -> int:
        return max(self.blocked - self.in_place - self.missing, 0)

    @property
    def solid(self) -> float:
        """How much of the height is solid, 0 to 1."""
        return self.refitted / self.required if self.required else 0

    @property
    def hatched(self) -> float:
        """How far up the hatch reaches, the solid included."""
        return (self.refitted + self.ready) / self.required if self.required else 0

    @property
    def line(self) -> LineStyle:
        if not self.required:
            return LineStyle.IN_PLACE
        if self.blocked <= 0:
            return LineStyle.COMPLETE if not (self.ready or self.in_doubt) else LineStyle.PARTLY
        most = max(self.missing, self.off, self.in_place)
        if self.missing == most:
            return LineStyle.MISSING
        return LineStyle.OFF if self.off == most else LineStyle.IN_PLACE

    @property
    def stands(self) -> bool:
        """Whether something of it is to be seen on the locomotive, and hides what is behind it."""
        return bool(self.refitted or self.ready) or self.line is LineStyle.IN_PLACE

    def in_words(self) -> str:
        """10 of 18 refitted, 6 ready, 2 blocked."""
        if not self.required:
            return "nothing required"
        told = [f"{self.refitted} of {self.required} refitted"]
        told += [f"{self.ready} ready"] if self.ready else []
        told += [f"{self.blocked} blocked"] if self.blocked > 0 else []
        told += [f"{self.in_doubt} in doubt"] if self.in_doubt else []
        return ", ".join(told)


def added_up(rows: Iterable[SubassemblyCounts]) -> PartCounts:
    """One count for all the rows of a part; counts that contradict each other are refused."""
    counts = [(0,) * len(COUNTS)]
    for row in rows:
        counts.append(counted(row))
        if min(counts[-1]) < 0 or row.refitted + row.ready > row.required:
            raise ValueError(f"{row.name}: {row.refitted} refitted and {row.ready} ready of {row.required}")
    return PartCounts(*map(sum, zip(*counts, strict=True)))
