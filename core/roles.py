"""Who may do what, stated once. Imports nothing of ours; a superuser passes no rule here.

A person may hold several roles. Rules about two names and independence look at the person, not at the role.
"""

from collections.abc import Iterable
from enum import StrEnum


class Role(StrEnum):
    VOLUNTEER = "volunteer"
    STOREKEEPER = "storekeeper"
    FITTER = "fitter"
    EXAMINER = "examiner"
    RESPONSIBLE_ENGINEER = "responsible engineer"
    WORKS_MANAGER = "works manager"
    TRUSTEE = "trustee"


VOLUNTEER = frozenset({"strip", "clean", "offer up", "move", "photograph", "tie tag", "describe"})
FITTER = VOLUNTEER | {
    "edit drawings",
    "edit patterns",
    "propose",
    "break down",
    "repair",
    "finish repair",
    "send back",
    "refit",
    "take off",
}
STOREKEEPER = VOLUNTEER | {"edit patterns", "print labels", "edit locations", "stock-take", "split lot", "share device"}
ON_A_PIECE = (
    FITTER
    | STOREKEEPER
    | {"crack-check", "accept", "start on", "pass", "leave alone", "withdraw", "bring back", "change places", "confirm"}
    | {"earmark", "decide", "hold", "known empty", "edit limits", "edit instruments", "renew", "invite"}
    | {"edit contractions"}
)

MAY: dict[Role, frozenset[str]] = {
    Role.VOLUNTEER: VOLUNTEER,
    Role.STOREKEEPER: STOREKEEPER,
    Role.FITTER: FITTER,
    Role.EXAMINER: VOLUNTEER | {"examine", "crack-check", "edit instruments", "propose"},
    Role.RESPONSIBLE_ENGINEER: ON_A_PIECE | {"examine"},
    Role.WORKS_MANAGER: frozenset(
        {"edit structure", "import", "start on", "renew", "propose", "known empty", "edit people", "edit firms"}
        | {"invite", "share device", "edit drawings", "edit patterns", "edit contractions"}
    ),
    Role.TRUSTEE: frozenset(),
}
"""What each role may do. `examine` also wants an authorisation for the kind and method; `renew` leads a renewal from
its first step to its last, `start on` begins the new piece of it; `propose` notes a decision as provisional."""

EVERYTHING = frozenset().union(*MAY.values())


def may(roles: Iterable[str], deed: str) -> bool:
    """Does one of these roles allow the deed? An unknown deed is a programming error.

    >>> may(["volunteer"], "clean"), may(["volunteer"], "accept")
    (True, False)
    """
    if deed not in EVERYTHING:
        raise KeyError(f"no such deed: {deed!r}")
    return any(deed in MAY.get(role, ()) for role in roles)


def who_may(deed: str) -> list[str]:
    """The roles that allow a deed, for a sentence such as 'This needs a fitter'."""
    return [role.value for role in Role if deed in MAY[role]]
