"""Saying when one comes, and what the office keeps of people and machines. No event says which days: the log has more
readers than the days of a person may have."""

from core.domain.catalogue import Action, EventType
from core.roles import OFFICE, Role

SAY_DAYS = Action(
    word="say days",
    roles=frozenset(Role),
    label="Say when you come",
    events=(EventType(word="say days", past="Days given", data={"person": int}),),
)
EDIT_SKILLS = Action(
    word="edit skills",
    roles=OFFICE,
    label="Say what somebody can do",
    events=(
        EventType(word="add skill", past="Skill added", data={"person": int, "skill": str, "until": (str, type(None))}),
        EventType(word="end skill", past="Skill ended", data={"person": int, "skill": str}),
        EventType(word="set learner", past="Learner set", data={"person": int, "learner": bool}),
    ),
)
EDIT_MACHINES = Action(
    word="edit machines",
    roles=OFFICE,
    label="Edit a machine",
    events=(EventType(word="edit machine", past="A machine edited", data={"machine": int, "was": dict}),),
)
