"""What the forms of several actions must say, or one where a line with something in it is not enough: asked of a form
that was sent, since no button is greyed for what is not said yet."""

from typing import Any

from core.domain.refusals import Refusal

from .exams_due import EXCAVATION
from .job_words import RepairMethod
from .rows import ActionContext
from .states import required
from .words import Destination, State

S = State
NEVER_CHOSEN = (Destination.NOT_SAID, Destination.BUILT_IN)

reason_required = required("reason", "Reason: nothing was written.", "Say why, in a few words.")
protection_required = required(
    "protection", "Protection: none chosen.", "Say what keeps it from rusting, or “none needed”."
)


def look_again_required(context: ActionContext) -> Refusal | None:
    if context.input.look_again is None:
        return Refusal("look-again", "Look again on: no date.", "Give the day by which somebody looks at it again.")
    if context.input.look_again <= context.today:
        return Refusal("look-again", "Look again on: the day has passed.", "Give a day after today.")
    return None


def is_lot_under_pressure(place: Any, quantity: int) -> bool:
    """`place` as a row or as stored."""
    return place is not None and place.pressure_part and quantity > 1


def examined_required(context: ActionContext) -> Refusal | None:
    """Tubes, stays and studs under pressure are found good as a lot, by how many of it were examined."""
    lot = context.this_piece.quantity
    if not is_lot_under_pressure(context.place, lot) or 1 <= (context.input.value("examined") or 0) <= lot:
        return None
    cure = "Say how many of the lot were examined."
    return Refusal("examined", f"How many were examined: not a number from 1 to {lot}.", cure)


def sample_required(context: ActionContext) -> Refusal | None:
    lot, examined = context.this_piece.quantity, context.input.value("examined") or 0
    told = str(context.input.value("sample") or "").strip()
    if not is_lot_under_pressure(context.place, lot) or not 1 <= examined < lot or told:
        return None
    return Refusal("sample", f"Why only {examined} of {lot}: nothing was written.", "Say how those were chosen.")


def certificate_required(context: ActionContext) -> Refusal | None:
    lot, told = context.this_piece.quantity, str(context.input.value("certificate") or "").strip()
    if not is_lot_under_pressure(context.place, lot) or told:
        return None
    return Refusal("certificate", "Certificate: nothing was written.", "Give the number of the lot's certificate.")


LOT_REQUIRED = (examined_required, sample_required, certificate_required)


def weld_papers_required(context: ActionContext) -> Refusal | None:
    given = context.input
    if "weld" in given.work.lower() and not (given.procedure.strip() and given.welder.strip()):
        return Refusal("weld", "Welding: the procedure and the welder are missing.", "Record both.")
    return None


def bond_required(context: ActionContext) -> Refusal | None:
    """New white metal that does not hold to its shell breaks up under way."""
    repair = next((one for one in context.this_piece.repairs if one.id == context.input.repair), None)
    if repair is None or repair.method != RepairMethod.RE_METAL or str(context.input.value("bond") or "").strip():
        return None
    cure = "Say how the bond of the white metal to its shell was checked, by whom, and what it showed."
    return Refusal("bond", "Bond check: nothing was written.", cure)


def excavation_checked(context: ActionContext) -> Refusal | None:
    """What is to be welded is checked for cracks while it is open; afterwards nobody can look there."""
    piece = context.this_piece
    if not (context.input.procedure.strip() or context.input.welder.strip()):
        return None
    if any(
        x.stage == EXCAVATION and x.signed and not x.superseded and x.event > piece.bared_event
        for x in piece.examinations
    ):
        return None
    return Refusal(
        "excavation",
        "Welding: no crack check of the excavation is signed.",
        "Have it checked and signed; the responsible engineer may say why it was not.",
        True,
    )


def second_name(context: ActionContext) -> Refusal | None:
    if context.input.checker == context.actor.id:
        return Refusal("checker", "Checker: that is you.", "Somebody else checks and signs.")
    if context.input.checker is None and context.place and context.place.safety_critical:
        return Refusal(
            "checker", "Checker: a safety-critical piece takes two names.", "A second person checks and signs."
        )
    return None


def goes_to_an_earlier_state(context: ActionContext) -> Refusal | None:
    allowed = [S.STRIPPED] if context.this_piece.state is S.CLEANED else [S.STRIPPED, S.CLEANED]
    if context.input.to not in [s.value for s in allowed]:
        return Refusal("to", "Back to: not an earlier state.", f"Choose {' or '.join(s.value for s in allowed)}.")
    return None


def dependents_read(context: ActionContext) -> Refusal | None:
    """What would be left without it is said first; whoever has read that may go on."""
    if context.this_piece.depended_on and not context.input.confirmed:
        cure = "Tick that you have read it, and send it again."
        return Refusal("depended-on", " ".join(context.this_piece.depended_on), cure)
    return None


def destination_required(context: ActionContext) -> Refusal | None:
    if context.input.destination not in [d.value for d in Destination if d not in NEVER_CHOSEN]:
        return Refusal("destination", "Where it goes: not chosen.", "Choose where the piece goes.")
    if context.this_piece.cracked and context.input.destination == Destination.SPARE:
        return Refusal("spare", "A cracked piece is never a spare.", "Scrap it, or set it aside marked as cracked.")
    return None
