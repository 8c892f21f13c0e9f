"""The crack checks that a repair by welding calls for, and which of them are there. What is asked of a piece before it
goes on is in `looked` and `asks`; this tells it beforehand, to whoever welds and to whoever examines.

Three checks: the excavation, the finished weld after the wait that its procedure gives, and again after stress relief
or final machining. Common practice, no source: the weld procedure and the competent person go before it.
"""

from dataclasses import dataclass
from datetime import date

from .exams_due import EXCAVATION, LAST, WELD, counts, unanswered
from .job_words import RepairMethod
from .rows import Examination, Piece
from .words import Kind, Result, State

BEFORE_WELDING = frozenset({State.STRIPPED, State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED})

WELDING = (RepairMethod.WELD, RepairMethod.NEW_PLATE, RepairMethod.OTHER)
"""Repairs that are, or may be, done by welding."""


@dataclass(frozen=True, slots=True)
class StageCheck:
    """One check of a weld repair. `stage` is what the form of the next one is opened with."""

    stage: str
    sentence: str
    there: bool
    on: date | None = None
    result: str = ""


def weld_checks(piece: Piece, *, expected: bool = False) -> list[StageCheck]:
    """The three checks in their order; none where nothing is welded or dug out. `expected`: a weld may be to come."""
    checks = [x for x in piece.examinations if x.kind == Kind.CRACK_CHECK and x.signed and not x.superseded]
    dug_out = _dug_out(piece)
    if is_welded(piece):
        return _after_welding(piece, checks)
    if not (dug_out or expected):
        return []
    return [
        _stage(EXCAVATION, "The excavation, before any welding: the whole of the crack is out.", dug_out),
        _stage(WELD, "The finished weld and the metal beside it, after the wait that its procedure gives.", []),
        _stage(LAST[1], "Again after stress relief, or after final machining.", []),
    ]


def _after_welding(piece: Piece, checks: list[Examination]) -> list[StageCheck]:
    before = [x for x in checks if x.stage == EXCAVATION and x.event < piece.welded_event]
    since = [x for x in checks if x.event > piece.welded_event]
    return [
        _stage(EXCAVATION, "The excavation, before welding.", before),
        _stage(
            WELD,
            "The finished weld and the metal beside it, after the wait that its procedure gives.",
            [x for x in since if x.stage in (WELD, *LAST)],
        ),
        _stage(
            LAST[1],
            "Again after stress relief, or after final machining; or the finished weld, if neither follows.",
            [x for x in since if x.stage in LAST and counts(x, piece)],
        ),
    ]


def _stage(stage: str, sentence: str, found: list[Examination]) -> StageCheck:
    if not found:
        return StageCheck(stage, sentence, there=False)
    latest = found[-1]
    return StageCheck(stage, sentence, there=True, on=latest.on, result=str(latest.result or Result.SOUND))


def may_be_welded(piece: Piece) -> bool:
    """It was decided to repair what a crack check showed: if by welding, the excavation is looked at first. Not once
    another way was chosen, such as cold stitching."""
    if piece.repairs and not any(repair.method in ("", *WELDING) for repair in piece.repairs):
        return False
    return any(exam.kind == Kind.CRACK_CHECK and exam.decision == "repair" for exam in unanswered(piece))


def wanted(checks: list[StageCheck], piece: Piece) -> StageCheck | None:
    """The one to sign next, once the piece is as it has to be: dug out before the welding is recorded, cleaned after
    it. An excavation that was passed over cannot be looked at any more."""
    if not checks:
        return None
    excavation, *after = checks
    if not is_welded(piece):
        return excavation if not excavation.there and piece.state in BEFORE_WELDING else None
    return next((check for check in after if not check.there), None) if piece.state is not State.STRIPPED else None


def is_welded(piece: Piece) -> bool:
    """Welding is on record, and nothing was dug out again since."""
    return bool(piece.welded_event) and not _dug_out(piece)


def _dug_out(piece: Piece) -> list[Examination]:
    checks = (x for x in piece.examinations if x.kind == Kind.CRACK_CHECK and x.signed and not x.superseded)
    return [x for x in checks if x.stage == EXCAVATION and x.event > piece.bared_event]
