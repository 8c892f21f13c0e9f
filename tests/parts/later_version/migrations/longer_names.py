"""Rebuilds, on SQLite, a table that triggers on other tables name."""

from django.db import migrations, models

from . import NEWEST


class Migration(migrations.Migration):
    dependencies = [("parts", NEWEST)]
    operations = [migrations.AlterField("position", "name", models.CharField(max_length=500))]
