"""Django's own, with what a register asks beside it: one for another version is left alone, and an upgrade happens
whole or not at all, so that a start cut off half-way leaves the register as it was."""

from contextlib import contextmanager

from django.core.management.base import CommandError
from django.core.management.commands import migrate
from django.db import connections, transaction
from django.db.migrations.executor import MigrationExecutor

from core.domain.schema import Schema
from parts.finding import find_index
from parts.models import triggers
from workshop.upgrading.compatibility import CannotUse, refuse_unless


class Command(migrate.Command):
    def execute(self, *args, **options):
        """Look at the register first of all: the checks would stumble over the tables of another version."""
        try:
            refuse_unless(Schema.ABSENT, Schema.OLDER, Schema.CURRENT)
        except CannotUse as refused:
            raise CommandError(str(refused)) from None
        self.step, self.steps = 0, steps_to_come(options["database"])
        super().execute(*args, **options)

    def check(self, *args, **kwargs):
        """The checks read the code of every page, so not where there is nothing to do."""
        if self.steps:
            super().check(*args, **kwargs)

    def handle(self, *args, **options):
        if options["check_unapplied"] or options["plan"]:
            return super().handle(*args, **options)
        using, self.told = options["database"], options["verbosity"]
        if not self.steps and not options["app_label"]:
            return self.mend(using)
        with all_or_nothing(using):
            super().handle(*args, **options | {"verbosity": 0 if self.told == 1 else self.told})

    def mend(self, using: str) -> None:
        triggers.create_after_migration(using)
        find_index.rebuild_after_migration(using)
        if self.told:
            self.stdout.write("No migrations to apply.")

    def migration_progress_callback(self, action, migration=None, fake=False):
        if action == "apply_start" and self.told == 1:
            self.step += 1
            self.say(f"Step {self.step} of {self.steps}: {migration}")
        elif action == "apply_success" and self.told == 1 and self.step == self.steps:
            self.say("Making the index of Find …")
        super().migration_progress_callback(action, migration, fake)

    def say(self, words: str) -> None:
        self.stdout.write(words)
        self.stdout.flush()


def steps_to_come(using: str) -> int:
    executor = MigrationExecutor(connections[using])
    return len(executor.migration_plan(executor.loader.graph.leaf_nodes()))


@contextmanager
def all_or_nothing(using: str):
    """One transaction for every migration and what follows them.

    SQLite rebuilds a table only while foreign keys are not looked at, and stops looking only outside a transaction.
    PostgreSQL changes no table that rows written before in the transaction have checks waiting for.
    """
    connection = connections[using]
    with connection.constraint_checks_disabled(), transaction.atomic(using=using):
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        yield
