"""Sizes and their limits, fits, and limit sheets."""

from core.domain.catalogue import Action, EventType
from core.roles import ENGINEER

DESCRIBED = ("name", "letter", "stations", "directions", "round_part", "note")
"""What an edit of a size may change."""

EDIT_LIMITS = Action(
    word="edit limits",
    roles=ENGINEER,
    events=tuple(
        EventType(word=word, past=past, data=data)
        for word, past, data in (
            ("add dimension", "A size to be measured was added", {}),
            ("edit dimension", "Details of a size changed", dict.fromkeys(DESCRIBED, list)),
            ("retire dimension", "A size is no longer measured", {}),
            ("set limits", "Limits set", {}),
            ("add fit", "Fit added", {}),
            ("set fit limits", "Limits of a fit set", {}),
            ("retire fit", "A fit is no longer checked", {}),
            ("add limit sheet", "Limit sheet added", {}),
        )
    ),
)
