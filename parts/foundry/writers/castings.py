"""What was made from a pattern, what hangs on it, and what a renewal that is cast from it has to wait for."""

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.domain.pattern_words import CASTS, PatternState, against_casting, is_casting
from parts.domain.plain import several
from parts.models import Casting, Component, Pattern, Renewal, RenewalStep


def add_casting(pattern: Pattern, component: Component, actor) -> Casting:
    """This piece was made from it."""
    writing.allow(actor, "edit patterns")
    with writing.one_transaction():
        if Casting.objects.filter(pattern=pattern, component=component).exists():
            sentence = f"Piece: {component.name} is down as made from it already."
            raise Refused(Refusal("piece", sentence, "Give the tag of another one."))
        if pattern.reference_id == component.pk:
            sentence = f"Piece: {component.name} is what the pattern was made after."
            raise Refused(Refusal("piece", sentence, "Give the tag of a piece that was made from it."))
        return _made(pattern, component, actor)


def remove_casting(casting: Casting, actor, *, reason: str) -> None:
    """It was not made from it after all. The event keeps that it was believed."""
    writing.allow(actor, "edit patterns")
    if not reason.strip():
        raise Refused(Refusal("reason", "Reason: nothing was written.", "Say how it is known."))
    with writing.one_transaction():
        _log(actor, "not cast from", casting.pattern, casting.component, reason)
        casting.delete()


def note_castings(renewal: Renewal, actor) -> None:
    """The casting is made: what the renewal has in the making was made from its pattern."""
    if renewal.pattern is None:
        return
    there = set(renewal.pattern.castings.values_list("component_id", flat=True))
    for piece in renewal.pieces.filter(cut_from=None, joined=None).order_by("id"):
        if piece.pk not in there:
            _made(renewal.pattern, piece, actor)


def against_step(step: RenewalStep) -> list[Refusal]:
    """Why a casting step may not be called done: its pattern, or a core box of it, has not been looked over."""
    renewal = step.renewal
    if renewal.pattern is None or not is_casting(step.name):
        return []
    begun = (
        Event.objects.about("place", renewal.position_id)
        .filter(action="open renewal", data__renewal=renewal.pk)
        .values_list("pk", flat=True)
        .first()
    )
    boxes = renewal.pattern.parts.in_use().filter(kind__in=[kind.value for kind in CASTS]).order_by("id")
    return [
        refusal
        for pattern in (renewal.pattern, *boxes)
        for refusal in against_casting(
            str(pattern), PatternState(pattern.state), went_for_it=begun is not None and pattern.sent_event > begun
        )
    ]


def dependents(pattern: Pattern) -> list[str]:
    """A sentence for each thing that depends on it, said before it is withdrawn."""
    found = []
    for renewal in pattern.renewals_under_way():
        found.append(f"The renewal of {renewal.position.words} will be cast from it.")
    if pattern.is_out:
        found.append(f"It is at {pattern.firm}, who may be casting from it.")
    boxes = pattern.parts.in_use().count()
    if boxes:
        verb = "goes" if boxes == 1 else "go"
        found.append(f"{several(boxes, 'core box or other part', 'core boxes or other parts')} {verb} with it.")
    return found


def _made(pattern, component, actor) -> Casting:
    casting = Casting.objects.create(pattern=pattern, component=component, by=actor)
    _log(actor, "cast from", pattern, component)
    return casting


def _log(actor, action, pattern, component, remark=""):
    event = writing.log(
        actor, action, component=component, pattern=pattern, touches=False, remark=remark.strip(),
        data={"pattern": str(pattern), "piece": component.name},
    )  # fmt: skip
    Pattern.objects.filter(pk=pattern.pk).update(last_event=event.pk)
    pattern.last_event = event.pk
