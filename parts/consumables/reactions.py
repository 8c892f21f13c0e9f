"""What was taken, put in stock or counted by mistake."""

from .writers import count_again

REACTIONS = ()
UNDOES = dict.fromkeys(("take consumable", "put consumable in stock", "count consumable"), count_again)
