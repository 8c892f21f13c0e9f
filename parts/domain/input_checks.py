"""What the form of an action must say, asked of a form that was sent: no button is greyed for what is not said yet."""

from core.domain.refusals import Refusal

from .looked import EXCAVATION
from .words import Destination, State

S = State
NEVER_CHOSEN = (Destination.NOT_SAID, Destination.BUILT_IN)


def said(name: str, sentence: str, cure: str):
    """A condition for any input of a form, by its name there: something was written."""

    def condition(context):
        return None if str(context.given.value(name) or "").strip() else Refusal(name, sentence, cure)

    return condition


reason_said = said("reason", "Reason: nothing was written.", "Say why, in a few words.")
method_said = said("method", "Method: none chosen.", "Say how it was cleaned.")
work_said = said("work", "Work: nothing was written.", "Say what was done to it.")
worker_said = said("who", "By whom: nobody named.", "Name the person or firm that did the work.")
protection_said = said("protection", "Protection: none chosen.", "Say what keeps it from rusting, or “none needed”.")


def look_again_said(context):
    if context.given.look_again is None:
        return Refusal("look-again", "Look again on: no date.", "Give the day by which somebody looks at it again.")
    if context.given.look_again <= context.today:
        return Refusal("look-again", "Look again on: the day has passed.", "Give a day after today.")
    return None


def weld_papers_said(context):
    given = context.given
    if "weld" in given.work.lower() and not (given.procedure.strip() and given.welder.strip()):
        return Refusal("weld", "Welding: the procedure and the welder are missing.", "Record both.")
    return None


def excavation_checked(context):
    """What is to be welded is checked for cracks while it is open; afterwards nobody can look there."""
    piece = context.piece
    if not (context.given.procedure.strip() or context.given.welder.strip()):
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


def second_name(context):
    if context.given.checker == context.actor.id:
        return Refusal("checker", "Checker: that is you.", "Somebody else checks and signs.")
    if context.given.checker is None and context.place and context.place.safety_critical:
        return Refusal(
            "checker", "Checker: a safety-critical piece takes two names.", "A second person checks and signs."
        )
    return None


def goes_to_an_earlier_state(context):
    allowed = [S.STRIPPED] if context.piece.state is S.CLEANED else [S.STRIPPED, S.CLEANED]
    if context.given.to not in [s.value for s in allowed]:
        return Refusal("to", "Back to: not an earlier state.", f"Choose {' or '.join(s.value for s in allowed)}.")
    return None


def dependents_read(context):
    """What would be left without it is said first; whoever has read that may go on."""
    if context.piece.depended_on and not context.given.confirmed:
        cure = "Tick that you have read it, and send it again."
        return Refusal("depended-on", " ".join(context.piece.depended_on), cure)
    return None


def destination_said(context):
    if context.given.destination not in [d.value for d in Destination if d not in NEVER_CHOSEN]:
        return Refusal("destination", "Where it goes: not chosen.", "Choose where the piece goes.")
    if context.piece.cracked and context.given.destination == Destination.SPARE:
        return Refusal("spare", "A cracked piece is never a spare.", "Scrap it, or set it aside marked as cracked.")
    return None
