"""How a register's tables compare with those of this version, told by the migrations that are recorded in it."""

from collections.abc import Set
from enum import StrEnum

FIRST = ("core", "0002_role_groups")
"""Every register that can be brought up to date has this one. Whoever rewrites the first migrations of an app gives
it another name: registers made by the earlier ones are then refused, since their tables are not what is recorded."""


class Schema(StrEnum):
    ABSENT = "absent"  # no register is there yet
    UNSUPPORTED = "unsupported"  # made before the first version that later ones bring up to date
    NEWER = "newer"
    OLDER = "older"
    CURRENT = "current"


def compare(applied: Set[tuple[str, str]], known: Set[tuple[str, str]]) -> Schema:
    """Both are (app, name) of migrations: those recorded in the register, and those of this version."""
    if not applied:
        return Schema.ABSENT
    if FIRST not in applied and not applied <= known:
        return Schema.UNSUPPORTED
    if unknown(applied, known):
        return Schema.NEWER
    return Schema.CURRENT if known <= applied else Schema.OLDER


def unknown(applied: Set[tuple[str, str]], known: Set[tuple[str, str]]) -> list[str]:
    """The migrations that this version does not know, of apps that it has, such as parts.0009_later."""
    apps = {app for app, _ in known}
    return sorted(f"{app}.{name}" for app, name in applied - known if app in apps)
