"""Accept in a group: several ordinary pieces are found good with one signature that names each."""

from core.domain.catalogue import Logged
from core.roles import BENCH, EXAMINERS

from ..domain import grouping
from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.states import PieceAction, no_hold_stops
from ..domain.words import State
from .accept import DATA, effect


def tell(event: Logged) -> str:
    return f"Accepted in group {event.data['group']}." if event.data.get("group") else "Accepted in a group."


ACCEPT_IN_GROUP = PieceAction(
    word=grouping.AUTHORISED,
    rank=51,
    roles=BENCH | EXAMINERS,
    starts=frozenset({State.CLEANED, State.CRACK_CHECKED}),
    ends=State.ACCEPTED,
    says="Ordinary pieces are found good, each by a look, with one signature that names each.",
    label="Accept in a group",
    done="Accepted",
    past="Accepted in a group",
    tell=tell,
    data={**DATA, "group": int},
    preconditions=(
        grouping.authorised_for_groups,
        no_hold_stops("accept"),
        when.has_a_place,
        grouping.is_ordinary,
        grouping.did_no_work_on_it,
        grouping.shows_no_crack,
        when.crack_checked_where_called_for,
        when.looks_are_signed,
        when.sizes_are_within,
        when.findings_are_decided,
        when.not_in_doubt,
        when.no_repair_open,
        when.nothing_only_provisional,
        when.own_places_filled,
    ),
    input_checks=(asks.protection_required, asks.look_again_required),
    effect=effect,
    signed=True,
    stoppable=False,  # what stops accepting stops it
)
