"""What things cost is read by those who answer for it."""

from core.domain.catalogue import Action
from core.roles import OFFICE, Role

READ_MONEY = Action(word="read money", roles=OFFICE | {Role.TRUSTEE}, label="Read what it costs")
