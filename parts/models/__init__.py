"""The register, one file per noun."""

from .components import Component, Earmark
from .events import Event
from .holds import HoldPoint
from .locations import Location, LocationKind, Movement
from .locomotives import Locomotive, Overhaul
from .photos import Photo
from .positions import Position
from .structure import GoesOnAfter, Subassembly
from .tags import Tag

__all__ = [
    "Component",
    "Earmark",
    "Event",
    "GoesOnAfter",
    "HoldPoint",
    "Location",
    "LocationKind",
    "Locomotive",
    "Movement",
    "Overhaul",
    "Photo",
    "Position",
    "Subassembly",
    "Tag",
]
