"""A tag that was tied by mistake is free again."""

from .writers import untie

REACTIONS = ()
UNDOES = {"tie tag": untie}
