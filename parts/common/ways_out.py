"""The way out of a need: what starts or continues the way back to ready, and for whom.

Addresses are written by hand: a list has hundreds of them, and asking for each would cost more than reading its row.
"""

from dataclasses import dataclass

from core.domain.catalogue import may

from ..domain.words import Need


@dataclass(frozen=True)
class Way:
    label: str
    href: str


def way_out(need: Need | str | None, roles, *, place: int | None = None, tag: str = "", way: int = 0) -> Way | None:
    """`way`: the number of the hold point, or of the repair or renewal that is open. None: nothing for these roles, or
    by another way."""
    found = _way(need, roles, place, tag, way)
    return Way(*found) if found else None


def _way(need, roles, place, tag, way):
    if need == Need.RELEASE and way:
        return "Ask for it, or release it" if may(roles, "hold") else "See the hold point", f"/holds/{way}/"
    if need == Need.DECIDE and tag and may(roles, "decide on"):
        return "Decide on it", f"/t/{tag}/decide"
    if need == Need.REPAIR and way:
        return "Go on with the repair", f"/repairs/{way}/"
    if need == Need.REPAIR and tag and may(roles, "repair"):
        return "Begin the repair", f"/t/{tag}/repair"
    if need == Need.SOURCE and place and may(roles, "renew"):
        return "Begin a renewal", f"/p/{place}/renew"
    if need == Need.FIT and way:
        return "See what to make", f"/fits/{way}/"
    if need == Need.AWAIT and way:
        return "Go on with the renewal", f"/renewals/{way}/"
    return None
