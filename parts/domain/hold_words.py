"""Words of hold points: who releases them, and what a step of a renewal adds to the actions they may stop."""

from enum import StrEnum


class Body(StrEnum):
    """Who releases a hold point. Every one but the engineer is outside the works, and gives a paper."""

    ENGINEER = "responsible engineer"
    INSPECTING = "inspecting body"
    SURVEYOR = "insurer's surveyor"
    LABORATORY = "laboratory or survey firm"
    OTHER = "another body"


LIFTS = "the responsible engineer or the works manager"
"""Who lets work go on that somebody stopped."""
CLOSE_OVERHAUL = "close the overhaul"
"""What a hold point on the whole overhaul may stop: its return to service."""
FINISH_STEP = "finish the step"
"""What a hold point on a step of a renewal stops, beside the actions of the life cycle."""
