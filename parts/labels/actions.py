"""What is printed on labels, and who may."""

from core.domain.catalogue import Action, EventType
from core.roles import STORES

PRINT_LABELS = Action(
    word="print labels",
    roles=STORES,
    events=(
        EventType(
            word="print labels",
            past="Labels printed",
            data={
                "tags": list,
                "address": str,
                "inside": dict,
                "whole": bool,
                "sheet": str,
                "start": int,
                "kind": str,
                "kinds": list,
                "count": int,
            },
        ),
    ),
)
