"""Where a place is on the locomotive, as a small drawing: here, on this side."""

from django.utils.safestring import SafeString, mark_safe

from ..domain.diagram.drawings import is_drawn, locator
from ..models import Position, Subassembly
from ..queries.engines import engine_of


def locator_of(place: Position | None) -> SafeString:
    """The locomotive with the subassembly of this place inked, or what that is part of; empty if neither is drawn."""
    if place is None:
        return SafeString()
    engine = engine_of(place.locomotive)
    sub: Subassembly | None = place.subassembly
    while sub and not is_drawn(engine, sub.code):
        sub = sub.parent
    if sub is None:
        return SafeString()
    return mark_safe(locator(engine, sub.code, side=place.side, name=sub.name))
