"""A photo that was put right or taken out by mistake."""

from .mending import as_before
from .turning import turned_back

REACTIONS = ()
UNDOES = {"put photo right": as_before, "take photo out": as_before, "turn photo": turned_back}
