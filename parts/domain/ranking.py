"""The one order of everything that waits, and whose work each thing is. Home, what to do next and planning ask here.

Whose work a need is: common practice, no source. Who *may* do it besides is in the catalogue.
"""

from collections.abc import Iterable, Sequence

from core.roles import Role

from .needs import RANK
from .rows import Actor, Place
from .words import Kind, Method, Need

REFIT = "refit"
"""Not a need: it is ready, its turn has come, and it can go on today."""

BOILER = "boiler due"
"""Not a need of a place: a row of a boiler's written scheme of examination is due."""

WHOSE: dict[str, frozenset[Role]] = {
    REFIT: frozenset({Role.FITTER}),
    BOILER: frozenset({Role.RESPONSIBLE_ENGINEER}),
    Need.FIND: frozenset({Role.STOREKEEPER}),
    Need.FETCH: frozenset({Role.STOREKEEPER, Role.WORKS_MANAGER}),
    Need.RELEASE: frozenset({Role.RESPONSIBLE_ENGINEER}),
    Need.DECIDE: frozenset({Role.RESPONSIBLE_ENGINEER}),
    Need.REPAIR: frozenset({Role.FITTER}),
    Need.RECHECK: frozenset({Role.EXAMINER}),
    Need.STRIP: frozenset({Role.VOLUNTEER, Role.FITTER}),
    Need.SOURCE: frozenset({Role.WORKS_MANAGER}),
    Need.AWAIT: frozenset({Role.WORKS_MANAGER}),
    Need.CLEAN: frozenset({Role.VOLUNTEER}),
    Need.CRACK_CHECK: frozenset({Role.EXAMINER}),
    Need.EXAMINE: frozenset({Role.EXAMINER}),
    Need.MEASURE: frozenset({Role.EXAMINER}),
    Need.SIGN: frozenset({Role.RESPONSIBLE_ENGINEER}),
    Need.FIT: frozenset({Role.RESPONSIBLE_ENGINEER}),
}
LIFTERS = frozenset({Role.RESPONSIBLE_ENGINEER, Role.WORKS_MANAGER})
LOOKS = frozenset({Need.CRACK_CHECK, Need.EXAMINE, Need.MEASURE})
LOOK_AT: dict[str, str] = {Need.EXAMINE: Kind.VISUAL.value, Need.MEASURE: Kind.DIMENSIONAL.value}
"""The authorisation that a look takes; that of a crack check depends on the place."""
_RANK: dict[str, int] = {BOILER: -2, REFIT: -1, **RANK}
WORK = frozenset(WHOSE)
"""What somebody can set to; waiting for another subassembly is no work."""


def turn(need: str, holds_up: int, *, stopped: bool = False, clears: int = 0, leeway: int = 0) -> tuple[int, ...]:
    """Less is sooner. Stopped work first; then what clears most at once; then what sets most free behind it; among
    equals what can wait the fewest days, then what can go on at once, then the order in which needs lead.

    >>> turn("refit", 3) < turn("find", 3) < turn("clean", 3) < turn("refit", 2)
    True
    >>> turn("release", 0, stopped=True) < turn("refit", 99)
    True
    >>> turn("clean", 3, clears=1) < turn("clean", 9) < turn("clean", 9, leeway=5)
    True
    """
    return not stopped, -clears, -holds_up, leeway, _RANK[need]


def needs_of(roles: Iterable[str]) -> frozenset[str]:
    """What people with these roles see to."""
    held = frozenset(roles)
    return frozenset(need for need, whose in WHOSE.items() if whose & held)


def look_of(need: str, place: Place) -> str:
    """The authorisation that a look at this place takes: 'visual', 'crack check: penetrant'; blank for no look."""
    if need == Need.CRACK_CHECK:
        return look_of_method(place.crack_check_method)
    return LOOK_AT.get(need, "")


def look_of_method(method: str) -> str:
    return f"{Kind.CRACK_CHECK}: {method or Method.ANY}"


def may_sign(actor: Actor, look: str) -> bool:
    """Whether the person is authorised for it; by any method where none is named."""
    if look == look_of_method(Method.ANY):
        return any(word.startswith(Kind.CRACK_CHECK) for word in actor.authorised)
    return not look or look in actor.authorised


def look_of_kind(kind: Kind, place: Place | None) -> str:
    """The authorisation that signing this kind of examination of a piece for this place takes."""
    return look_of_method(place.crack_check_method if place else "") if kind is Kind.CRACK_CHECK else kind.value


def who_may_do(roles: Iterable[str], people: Sequence[Actor], *, look: str = "") -> list[str]:
    """The names of those whose role allows it and who are authorised for the look, if it is one."""
    held = frozenset(roles)
    return [one.name for one in people if held & one.roles and may_sign(one, look)]


def who_acts(need: str, people: Sequence[Actor], *, look: str = "", stopped: bool = False) -> list[str]:
    """The names of those whose work it is."""
    roles = LIFTERS if stopped else WHOSE.get(need, frozenset())
    return who_may_do(roles, people, look=look)


def in_words(names: Sequence[str], reader: str = "") -> str:
    """
    >>> in_words(["Ada"]), in_words(["Ada", "Pim"]), in_words(["Ada", "Pim", "Wren", "Nell"]), in_words([])
    ('Ada', 'Ada or Pim', 'Ada or 3 others', 'nobody yet')
    >>> in_words(["Ada", "Pim"], reader="Pim")
    'you or Ada'
    """
    if reader in names:
        names = ["you", *(name for name in names if name != reader)]
    if len(names) > 2:
        return f"{names[0]} or {len(names) - 1} others"
    return " or ".join(names) or "nobody yet"
