"""The page on which somebody goes on with what a place needs, for whom it is there."""

from dataclasses import dataclass

from core.domain.catalogue import may
from core.web.rooms import need_pages

from ..domain.words import Need


@dataclass(frozen=True)
class NeedLink:
    label: str
    href: str


def need_link(
    need: Need | str | None, roles, *, place: int | None = None, tag: str = "", target: int = 0
) -> NeedLink | None:
    """`target`: the number of the hold point, or of the repair, renewal or fit. None: nothing for these roles, or by
    another way. The addresses are written out: a list has hundreds of them."""
    known = {name: value for name, value in (("place", place), ("tag", tag), ("target", target)) if value}
    for page in need_pages().get(need or "", ()):
        if not page.may or may(roles, page.may):
            try:
                return NeedLink(page.label, page.href.format(**known))
            except KeyError:  # what it asks for is not there
                continue
    return None
