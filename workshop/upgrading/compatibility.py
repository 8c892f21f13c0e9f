"""Whether this version can work on the register, and what is said where it cannot."""

from django.conf import settings
from django.db import connection

from core.domain.schema import Schema, unknown
from workshop.backups import schema


class CannotUse(Exception):
    """Why the register is left alone, in sentences that say what to do."""


def refuse_unless(*usable: Schema) -> Schema:
    """What the register is, if that is usable; raises CannotUse otherwise, and changes nothing."""
    found = schema.of_register()
    if found not in usable:
        raise CannotUse(_sentences(found))
    return found


def _sentences(found: Schema) -> str:
    begin = "python3 run.py demo" if settings.DEMO else "python3 run.py serve"
    match found:
        case Schema.ABSENT:
            return (
                f"There is no register in {_where()} yet. Begin one with: {begin}\n"
                "Or put a backup back with: python3 run.py restore FILE"
            )
        case Schema.UNSUPPORTED:
            return f"Nothing was changed. {_where()} holds a register from before version 0.1.0. {_begin_anew()}"
        case Schema.NEWER:
            newest = unknown(schema.applied(), schema.known())[0]
            return (
                f"Nothing was changed. A newer Cotter has worked on {_where()} (it has {newest}). "
                "Use that version, or a newer one, or put back a backup made before."
            )
        case _:
            return (
                f"An earlier Cotter made the register in {_where()}. Start this one once with: {begin}\n"
                "It makes a backup, then brings the register up to date."
            )


def _begin_anew() -> str:
    if settings.DEMO:
        return "Build the demo again with: python3 run.py demo --fresh"
    return (
        "This version cannot bring it up to date. Go on with the Cotter that made it, or begin a new register: "
        "set COTTER_DATA to another folder, then run: python3 run.py serve"
    )


def _where() -> str:
    return str(settings.DATA) if connection.vendor == "sqlite" else f"the database {connection.settings_dict['NAME']}"
