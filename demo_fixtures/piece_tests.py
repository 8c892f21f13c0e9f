"""Figures of the tests of single pieces in the demo: gauges, valves, springs, pipes. All of it is invented."""

from parts.domain.words import Kind

from .clock import Clock

DRAWING = "Drawing 114 of the invented works"
CALIBRATION = {
    "unit": "lb/in²", "gauge": "Dead-weight tester DW 2", "readings": "0, 0\n60, 61\n120, 122\n180, 182\n120, 121\n60, 61",
    "allowed": "5", "limits_from": "Works instruction 7 (invented)",
}  # fmt: skip
SET_PRESSURE = {
    "set": "180 lb/in²", "either": "3 lb/in²", "blowdown": "6 lb/in²", "limits_from": DRAWING, "lifts": "181 lb/in²",
    "shuts": "177 lb/in²", "medium": "steam, on the test boiler", "gauge": "G 7, 0 to 300 lb/in²",
}  # fmt: skip
SPRING_TEST = {
    "load": "2 long tons", "free": "4 1/2 in", "free_low": "4 3/8 in", "free_high": "4 5/8 in", "loaded": "3 1/16 in",
    "loaded_low": "3 in", "loaded_high": "3 1/4 in", "after": "4 1/2 in", "set_most": "1/16 in", "limits_from": DRAWING,
    "gauge": "Spring press 1",
}  # fmt: skip
PRESSURE_TEST = {
    "asked": "225 lb/in²", "most": "235 lb/in²", "held_least": "20", "drop_most": "0 lb/in²", "limits_from": DRAWING,
    "medium": "cold water", "reached": "226 lb/in²", "held": "25", "drop": "0 lb/in²", "leaks": "none",
    "gauge": "G 7, 0 to 300 lb/in²", "witness": "Maud Estringer",
}  # fmt: skip
BY_KIND = {
    Kind.CALIBRATION: CALIBRATION, Kind.SET_PRESSURE: SET_PRESSURE, Kind.SPRING_TEST: SPRING_TEST,
    Kind.PRESSURE_TEST: PRESSURE_TEST, Kind.HYDRAULIC_TEST: PRESSURE_TEST,
}  # fmt: skip


def figures(kind: str, clock: Clock) -> dict[str, str] | None:
    """None for a kind that has none."""
    if kind not in BY_KIND:
        return None
    return BY_KIND[Kind(kind)] | {"until": clock.ago(-200).isoformat()}
