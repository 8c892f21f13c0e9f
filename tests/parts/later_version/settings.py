"""The settings of a version that is later by one migration of `parts`."""

from workshop.settings import *  # noqa: F403

MIGRATION_MODULES = {"parts": "tests.parts.later_version.migrations"}
