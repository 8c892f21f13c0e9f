"""People: invited, entered, authorised; their PINs, cards and devices."""

from core.domain.catalogue import Action, EventType, Shape
from core.roles import MANAGER, OFFICE, STORES

PERSON: Shape = {
    "person": int,
    "roles": list,
    "username": str,
    "kind": str,
    "method": str,
    "until": (str, type(None)),
    "level": str,
    "devices": int,
    "new password": bool,
}
EDIT_PEOPLE = Action(
    word="edit people",
    roles=MANAGER,
    events=tuple(
        EventType(word=word, data=PERSON)
        for word in (
            "add person",
            "edit person",
            "deactivate person",
            "reactivate person",
            "sign out",
            "change password",
            "authorise",
            "end authorisation",
            "set PIN",
            "remove PIN",
            "issue card",
            "withdraw card",
        )
    ),
)
INVITE = Action(
    word="invite",
    roles=OFFICE,
    events=(
        EventType(word="invite", past="Invited", data={"invitation": int, "roles": list}),
        EventType(word="withdraw invitation", past="Invitation withdrawn", data={"invitation": int}),
        EventType(word="join", past="Joined", data={"invitation": int, "roles": list, "person": int}),
    ),
)
SHARE_DEVICE = Action(
    word="share device",
    roles=STORES | MANAGER,
    events=(
        EventType(word="share device", past="A shared tablet was added", data={"tablet": int}),
        EventType(word="stop sharing device", past="A shared tablet was removed", data={"tablet": int}),
    ),
)
