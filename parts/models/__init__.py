"""The register, one file per noun."""

from .components import Component, Earmark
from .decisions import Decision, Option
from .events import Event
from .evidence import Evidence
from .findable import Findable, ToFold
from .firms import Firm
from .holds import HoldPoint, HoldRelease
from .locations import Location, LocationKind, Movement
from .locomotives import Locomotive, Overhaul
from .papers import Paper
from .photos import Photo
from .positions import Position
from .promises import Promise
from .receipts import Receipt
from .renewals import Renewal, RenewalStep, RouteTemplate
from .repairs import Repair
from .saved_filters import SavedFilter
from .structure import GoesOnAfter, Subassembly
from .tags import Tag

__all__ = [
    "Component",
    "Decision",
    "Earmark",
    "Event",
    "Evidence",
    "Findable",
    "Firm",
    "GoesOnAfter",
    "HoldPoint",
    "HoldRelease",
    "Location",
    "LocationKind",
    "Locomotive",
    "Movement",
    "Option",
    "Overhaul",
    "Paper",
    "Photo",
    "Position",
    "Promise",
    "Receipt",
    "Renewal",
    "RenewalStep",
    "Repair",
    "RouteTemplate",
    "SavedFilter",
    "Subassembly",
    "Tag",
    "ToFold",
]
