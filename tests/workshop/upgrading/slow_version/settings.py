"""The settings of a version that is later by one migration of `parts`, which stands still where a test says."""

from workshop.settings import *  # noqa: F403

MIGRATION_MODULES = {"parts": "tests.workshop.upgrading.slow_version.migrations"}
