"""Instruments and their calibration."""

from core.domain.catalogue import Action, EventType
from core.roles import EXAMINERS

DESCRIBED = ("kind", "low", "high", "resolution", "note", "retired")
"""What an edit of an instrument may change."""

EDIT_INSTRUMENTS = Action(
    word="edit instruments",
    roles=EXAMINERS,
    events=(
        EventType(word="add instrument", past="Instrument added"),
        EventType(word="edit instrument", past="Instrument details changed", data=dict.fromkeys(DESCRIBED, list)),
        EventType(word="calibrate instrument", past="Instrument calibrated", data={"found_out": bool}),
    ),
)
