"""Rebuilds a table that triggers name, and changes what Find says without an event. Where COTTER_STANDS_STILL says so it
stands still, to be killed there: half-way, or when all is done and nothing is committed yet."""

import os
import time

from django.apps import apps as installed
from django.conf import settings
from django.db import migrations, models
from django.db.models.signals import post_migrate

from tests.parts.later_version.migrations import NEWEST

STILL_S = 600


def stand_still(at: str) -> None:
    if os.environ.get("COTTER_STANDS_STILL") == at:
        (settings.DATA / "stands-still").touch()
        time.sleep(STILL_S)


def rename(apps, schema_editor):
    apps.get_model("parts", "Position").objects.update(name="journal")
    stand_still("half-way")


def at_the_end(**kwargs):
    stand_still("at the end")


post_migrate.connect(at_the_end, sender=installed.get_app_config("parts"), dispatch_uid="stands still")


class Migration(migrations.Migration):
    dependencies = [("parts", NEWEST)]
    operations = [
        # Not `name`: PostgreSQL alters no column that a generated one (`tells_build`) reads.
        migrations.AlterField("position", "drawing", models.CharField(max_length=500, blank=True, default="")),
        migrations.RunPython(rename),
    ]
