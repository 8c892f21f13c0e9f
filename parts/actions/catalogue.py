"""The actions on a piece, in the order in which their buttons stand. One file of this package for each."""

import importlib
import pkgutil
from functools import cache
from pathlib import Path

from core.domain.catalogue import CATALOGUE

from ..domain.states import PieceAction


def add_all() -> None:
    """Every action that a file of this package defines, into the catalogue."""
    package = __name__.rpartition(".")[0]
    for module in pkgutil.iter_modules([str(Path(__file__).parent)]):
        found = vars(importlib.import_module(f"{package}.{module.name}")).values()
        CATALOGUE.add(*(entry for entry in found if isinstance(entry, PieceAction)))


@cache
def piece_actions() -> tuple[PieceAction, ...]:
    return tuple(sorted((a for a in CATALOGUE if isinstance(a, PieceAction)), key=lambda a: (a.rank, a.word)))


def piece_action(word: str) -> PieceAction:
    action = CATALOGUE.action(word)
    if not isinstance(action, PieceAction):
        raise KeyError(f"not an action of the life cycle: {word!r}")
    return action


def with_a_page() -> list[PieceAction]:
    """Those that have a form of their own on a piece's page."""
    return [action for action in piece_actions() if action.form]


def stoppable() -> list[str]:
    """Those that a hold point may stop."""
    return [action.word for action in piece_actions() if action.stoppable]
