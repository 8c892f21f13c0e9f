from .devices import SignIn, Tablet, TabletUse
from .invitations import Invitation
from .keys import Attempts, Card
from .people import Authorisation, Person

__all__ = ["Attempts", "Authorisation", "Card", "Invitation", "Person", "SignIn", "Tablet", "TabletUse"]
