"""Instruments and their calibration."""

from core.domain.catalogue import Action, EventType
from core.roles import EXAMINERS

EDIT_INSTRUMENTS = Action(
    word="edit instruments",
    roles=EXAMINERS,
    events=(
        EventType(word="add instrument", past="Instrument added"),
        EventType(word="edit instrument", past="Instrument described anew"),
        EventType(word="calibrate instrument", past="Instrument calibrated", data={"found_out": bool}),
    ),
)
