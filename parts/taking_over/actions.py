"""Taking a works' own list over. The pieces of it enter by `parts.actions.take_over`."""

from core.domain.catalogue import Action
from core.roles import MANAGER

IMPORT = Action(word="import", roles=MANAGER)
