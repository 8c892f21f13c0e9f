"""Taking a works' own list over. The pieces of it enter by `parts.actions.take_over`."""

from core.domain.catalogue import Action, EventType, Logged
from core.roles import MANAGER
from parts.domain.plain import listed


def taken_over(event: Logged) -> str:
    return f"{event.data.get('source', 'A list')} was taken over: {listed(event.data.get('added', ()))}."


def undone(event: Logged) -> str:
    return f"{event.data.get('source', 'A list')} was taken over by mistake, and all that it added is struck."


ADDED = dict.fromkeys(("piece", "place", "subassembly", "location"), list)
IMPORT = Action(
    word="import",
    roles=MANAGER,
    events=(
        EventType(
            word="import list",
            past="A list was taken over",
            data={"source": str, "added": list, "rows": dict, "emptied": list, "opened": list},
            tell=taken_over,
        ),
        EventType(word="match words", past="Words of a list matched with ours", data={"words": list}),
        EventType(
            word="undo import", past="An import was undone", data={"import list": int, "source": str}, tell=undone
        ),
    ),
)
