"""Which version made a register, told by the migrations recorded in it."""

from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from core.domain.schema import Schema, compare


def known() -> set[tuple[str, str]]:
    """(app, name) of every migration of this version."""
    return set(MigrationLoader(None, ignore_no_migrations=True).disk_migrations)


def applied() -> set[tuple[str, str]]:
    """(app, name) of every migration recorded in the register in use; none where there is no register."""
    return set(MigrationRecorder(connection).applied_migrations())


def of_register() -> Schema:
    return compare(applied(), known())
