"""The register, one file per noun."""

from .attendance import Attendance, CalendarAddress, DayIn, Skill
from .components import Component, Earmark
from .consumables import Consumable, ConsumableOrder, ConsumableUse
from .contractions import Contraction, Density, StruckOut
from .days import DayHand, DayJob, DaySheet
from .decisions import Decision, Option
from .drawings import Conflict, ConflictSide, Drawing, GoodFor
from .evidence import Evidence
from .findable import Findable
from .firms import Firm
from .holds import HoldPoint, HoldRelease
from .kits import Kit, KitLine
from .list_words import ListWord
from .locations import Location, LocationKind, Movement
from .locomotives import Locomotive, Overhaul
from .machines import Machine, MachineWork
from .papers import Paper
from .patterns import Casting, Pattern
from .photos import Photo
from .planning import Guess, KeptForecast, UnusualDay, WorkingWeek
from .positions import Position
from .promises import Promise
from .renewals import Renewal, RenewalStep, RouteTemplate
from .repairs import Repair
from .saved_filters import SavedFilter
from .stocktakes import Sighting, StockTake, StockTakeLine
from .structure import GoesOnAfter, Subassembly
from .tags import Tag

__all__ = [
    "Attendance",
    "CalendarAddress",
    "Casting",
    "Component",
    "Conflict",
    "ConflictSide",
    "Consumable",
    "ConsumableOrder",
    "ConsumableUse",
    "Contraction",
    "DayHand",
    "DayIn",
    "DayJob",
    "DaySheet",
    "Decision",
    "Density",
    "Drawing",
    "Earmark",
    "Evidence",
    "Findable",
    "Firm",
    "GoesOnAfter",
    "GoodFor",
    "Guess",
    "HoldPoint",
    "HoldRelease",
    "KeptForecast",
    "Kit",
    "KitLine",
    "ListWord",
    "Location",
    "LocationKind",
    "Locomotive",
    "Machine",
    "MachineWork",
    "Movement",
    "Option",
    "Overhaul",
    "Paper",
    "Pattern",
    "Photo",
    "Position",
    "Promise",
    "Renewal",
    "RenewalStep",
    "Repair",
    "RouteTemplate",
    "SavedFilter",
    "Sighting",
    "Skill",
    "StockTake",
    "StockTakeLine",
    "StruckOut",
    "Subassembly",
    "Tag",
    "UnusualDay",
    "WorkingWeek",
]
