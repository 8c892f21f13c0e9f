"""What is known of a locomotive for its drawing: plain rows, most of which may be missing."""

from dataclasses import dataclass
from typing import NamedTuple

from ..whyte import Tank

USUAL_TENDER_AXLES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Engine:
    """What the register says of the whole locomotive. Diameters in mm over the tread; 0 is not known."""

    wheels: str  # Whyte or UIC
    gauge_mm: float = 1435
    driving_mm: float = 0
    leading_mm: float = 0
    trailing_mm: float = 0
    tender_mm: float = 0
    tank: Tank | None = None  # where the arrangement does not say it
    tender_axles: int = USUAL_TENDER_AXLES
    outside_cylinders: bool = True
    valve_gear: str = ""
    outside_gear: bool | None = None  # None: as that gear usually lies
    outside_frames: bool = False
    driven_axle: int = 0  # of the first group, from the leading end; 0 is the usual one
    centre_coupler: bool | None = None  # None: as usual for the gauge
    superheated: bool = False


class SubassemblyCounts(NamedTuple):
    """A subassembly with the counts of its own places. What is left of `required` is off the locomotive and in hand."""

    code: str
    name: str
    required: int = 0
    refitted: int = 0
    ready: int = 0
    in_place: int = 0  # not yet dealt with
    missing: int = 0  # nothing is there to put in
    in_doubt: int = 0
    href: str = ""
    part: str = ""  # of the drawing; blank is looked up by the code
