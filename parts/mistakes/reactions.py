"""What was struck by mistake is put back."""

from .writers import undo_strike

REACTIONS = ()
UNDOES = {"strike out": undo_strike}
