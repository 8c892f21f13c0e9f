"""Rebuilds, on SQLite, a table that triggers on other tables name."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("parts", "0002_figures")]
    operations = [migrations.AlterField("position", "name", models.CharField(max_length=500))]
