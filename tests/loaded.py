"""All of Cotter loaded: `tests/running.py` forks from this the processes that tests start. What settings say is of no
register yet: each process reads its own."""

import gc
import os
import sys
import tempfile
from importlib import import_module

import django

LOADED = (
    "workshop.urls",
    "workshop.upgrading.command_line",
    "workshop.serving.server",
    "workshop.management.commands.migrate",
)


def load() -> None:
    with tempfile.TemporaryDirectory() as data:
        os.environ |= {"COTTER_DATA": data, "DJANGO_SETTINGS_MODULE": "workshop.settings"}
        try:
            django.setup()
            for name in LOADED:
                import_module(name)
        finally:
            forget_settings()
    gc.collect()
    gc.freeze()


def forget_settings() -> None:
    from django.conf import settings
    from django.db import connections
    from django.utils.functional import empty

    settings._wrapped = empty
    sys.modules.pop("workshop.settings", None)
    vars(connections).pop("settings", None)
    connections.__init__()


load()
