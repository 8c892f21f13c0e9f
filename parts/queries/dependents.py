"""What would be left without a piece, said before it is withdrawn."""

from parts.models import Pattern

from ..domain.plain import capital, several
from ..domain.words import State
from ..models import Component


def dependents(component: Component) -> tuple[str, ...]:
    """A sentence for each thing that depends on this piece."""
    return tuple(sentence for ask in ASKED for sentence in ask(component))


def _mates(component):
    """Pieces machined together with it are machined again with its successor."""
    if not component.matched:
        return
    same = Component.objects.live().filter(locomotive=component.locomotive_id, matched=component.matched)
    for mate in same.exclude(pk=component.pk).with_codes().order_by("id"):
        yield f"{capital(mate.name)} {mate.code or ''} was machined together with it.".replace("  ", " ")


def _cut(component):
    left = component.cut.filter(state=State.IN_THE_MAKING.value).count()
    if left:
        verb = "is" if left == 1 else "are"
        yield f"{several(left, 'new piece')} cut from it {verb} still in the making."


def _awaited(component):
    """A blank is what its renewal waits for: there the step fails, and the route goes back."""
    renewal = component.renewal
    if component.state == State.IN_THE_MAKING and renewal and not renewal.ended:
        sentence = "mark its step as failed there, so that the route goes back"
        yield f"The renewal of {renewal.position.words} waits for it; {sentence}."


def reference_for(component: Component):
    """Patterns that are made after a piece, or checked against it: said before the piece is withdrawn."""
    for pattern in Pattern.objects.measured_after(component):
        yield f"{capital(str(pattern))} was made after it, and is checked against it."


ASKED = [_mates, _cut, _awaited, reference_for]
