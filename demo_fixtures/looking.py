"""How cracks are looked for at this works: its written procedures, what it uses, and what it measures each time."""

from decimal import Decimal
from typing import Any

from inspections.domain.crack_methods import Magnetic, magnetic
from inspections.records.writers.crack_checks import CheckDetails
from parts.domain.words import Method
from parts.models import Position

MT, PT, UT = Method.MAGNETIC_PARTICLE, Method.PENETRANT, Method.ULTRASONIC
IN_SERVICE = {"manufacture": "In service, as dismantled", "deviations": "None"}
HOW: dict[Method, dict[str, Any]] = {
    MT: {
        "procedure": "WP 12 issue 3 (invented)",
        "technique": "Yoke, alternating current",
        "surface": "Bare metal, degreased",
        "equipment": "Yoke 4",
        "consumables": "Black ink, batch 77A; white contrast paint, batch 12",
        "viewing": "colour contrast",
        "light_lux": Decimal(900),
        "directions_deg": ("0", "90"),
        "demagnetised": "yes",
        "details": IN_SERVICE
        | {
            "field": "3.1 kA/m, alternating",
            "pole_spacing_mm": "140",
            "magnetic_check": "Lifts 4.5 kg; ink read on the reference block",
            "residual_field": "Under 0.4 kA/m",
            "meters": "Light meter 2",
        },
        "reasons": {"material-unknown": "A magnet holds everywhere.", "part-magnetic": "Only the steel was looked at."},
    },
    PT: {
        "procedure": "WP 15 issue 2 (invented)",
        "technique": "Solvent-removable, brushed on",
        "surface": "Bare metal, degreased",
        "equipment": "Aerosol set 2",
        "consumables": "Penetrant batch P41, developer batch D17",
        "viewing": "colour contrast",
        "light_lux": Decimal(850),
        "dwell_min": Decimal(20),
        "surface_c": Decimal(16),
        "details": IN_SERVICE
        | {
            "system": "II C e",
            "development_min": "15",
            "remover": "Solvent on a lint-free cloth, batch R6",
            "penetrant_check": "Reference block 2: all lines shown",
            "meters": "Light meter 2",
        },
    },
    UT: {
        "procedure": "WP 18 issue 1 (invented)",
        "technique": "Pulse echo from the end, and round the journal",
        "surface": "Ends dressed flat",
        "equipment": "Flaw detector 1",
        "consumables": "Couplant gel, batch 3",
        "details": IN_SERVICE
        | {
            "probe": "0 degrees, 2 MHz, 24 mm, number 7",
            "block": "Block 1, range 1500 mm",
            "sensitivity": "Back wall at full height, plus 12 dB",
            "coverage": "From both ends, all round",
        },
    },
}


def how_checked(method: str, **more) -> CheckDetails:
    usual = HOW[Method(method)]
    return CheckDetails(**{**usual, **more})


def suited(place: Position) -> Method:
    """What its place names; else magnetic particle where a magnet holds, and penetrant where none may."""
    if place.crack_check not in ("", Method.ANY):
        return Method(place.crack_check)
    return MT if magnetic(place.material) is Magnetic.YES else PT
