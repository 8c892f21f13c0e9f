"""Words of a boiler's file: under whose rules it stands, what it is made of, and what is written about it."""

from enum import StrEnum


class Regime(StrEnum):
    UK = "United Kingdom"
    US = "United States"
    CONTINENTAL = "Continental"
    OTHER = "other"


class PartKind(StrEnum):
    PLATE = "plate"
    SEAM = "seam"
    STAYS = "stays"
    TUBES = "tubes"
    MOUNTING = "mounting"


class PlateShape(StrEnum):
    """How a plate lies as a developed sheet."""

    SHEET = "sheet"
    COURSE = "barrel course"
    DISC = "disc"
    ARCHED = "arched"


class RecordKind(StrEnum):
    SURVEY = "thickness survey"
    STAY_MAP = "stay map"
    CALCULATION = "calculation"
    TEST = "test"


class EntryKind(StrEnum):
    """What is written into the file beside signed records. It is never changed; a later entry follows it."""

    EXAMINATION = "examination"
    REPAIR_BEGUN = "pressure repair begun"
    REPAIR_DONE = "pressure repair finished"
    BUILD_UP = "renewal or build-up"
    PRESSURE_LOWERED = "pressure lowered"
    PRESSURE_ALLOWED = "pressure allowed"
    RESET = "valves and gauge mark reset"
    PAPER = "paper"
    MOVE = "move"


PRESSURE_KINDS = (EntryKind.PRESSURE_ALLOWED.value, EntryKind.PRESSURE_LOWERED.value)
"""What says the working pressure from then on, each on the competent person's paper."""


CAUTION = (
    "Cotter computes and records. Nothing here is fit for pressure until the competent person and the inspecting body "
    "say so."
)
"""On each page and paper of a boiler."""
