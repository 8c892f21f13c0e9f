"""Planning: when the workshop is open, who comes, and how long the work left is guessed to take."""

from core.domain.catalogue import Action, EventType
from core.roles import OFFICE

PLAN = Action(
    word="plan",
    roles=OFFICE,
    label="Plan the work",
    events=(
        EventType(word="set working week", past="Opening days and hands set", data={"was": dict}),
        EventType(word="set unusual day", past="An unusual day set", data={"date": str, "minutes": int}),
        EventType(word="plan machine work", past="Work on a machine planned", data={"work": str}),
        EventType(word="end machine work", past="Work on a machine ended", data={"work": str, "took": str}),
        EventType(word="guess work left", past="Work left guessed", data={"was": dict, "guess": dict}),
    ),
)
