"""A crate or a pattern that was moved by mistake."""

from .undoing import moved_back

REACTIONS = ()
UNDOES = {"move": moved_back}
