"""The file of a boiler: begun, described, written into; and the boiler moved with its file."""

from core.domain.catalogue import Action, EventType
from core.roles import OFFICE

KEEP_BOILERS = Action(
    word="keep boilers",
    roles=OFFICE,
    events=(
        EventType(word="add boiler", past="Boiler file begun"),
        EventType(word="describe boiler", past="Boiler details changed", data={"changed": dict}),
        EventType(word="describe boiler part", past="Part of the boiler described", data={"changed": dict}),
        EventType(word="write boiler scheme", past="Written scheme of examination", data={"changed": dict}),
        EventType(word="enter in boiler file", past="Written into the boiler file", data={"kind": str}, signed=True),
        EventType(word="move boiler", past="Boiler moved with its file", data={"kind": str}, signed=True),
    ),
)
