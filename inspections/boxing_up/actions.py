"""Boxing up: the last look inside, signed by two."""

from core.domain.catalogue import Action, EventType
from core.roles import BENCH

BOX_UP = Action(
    word="box up",
    roles=BENCH,
    label="Box it up",
    done="Boxed up",
    signed=True,
    events=(EventType(word="box up", past="Boxed up", data={"pieces": int}, signed=True),),
)
