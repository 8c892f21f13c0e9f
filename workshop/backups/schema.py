"""Which version made a register, told by the migrations recorded in it."""

from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from core.domain.schema import Schema, compare, unknown

from .common import BackupRefused


def known() -> set[tuple[str, str]]:
    """(app, name) of every migration of this version."""
    return set(MigrationLoader(None, ignore_no_migrations=True).disk_migrations)


def applied() -> set[tuple[str, str]]:
    """(app, name) of every migration recorded in the register in use; none where there is no register."""
    return set(MigrationRecorder(connection).applied_migrations())


def of_register() -> Schema:
    return compare(applied(), known())


def refuse_other_versions(applied: set[tuple[str, str]]) -> None:
    match compare(applied, known()):
        case Schema.NEWER:
            newest = unknown(applied, known())[0]
            raise BackupRefused(
                f"This backup was made by a newer Cotter (it has {newest}). Bring this one up to date first."
            )
        case Schema.UNSUPPORTED:
            raise BackupRefused(
                "This backup holds a register from before version 0.1.0, and this version cannot bring it up to date. "
                "Nothing was changed; restore it with the Cotter that made it."
            )
