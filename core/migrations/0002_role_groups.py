"""The roles are groups, and are there from the start."""

from django.db import migrations

from core.roles import Role


def make_groups(apps, schema_editor):
    group = apps.get_model("auth", "Group")
    for role in Role:
        group.objects.get_or_create(name=role.value)


class Migration(migrations.Migration):
    dependencies = [("core", "0001_initial")]
    operations = [migrations.RunPython(make_groups, migrations.RunPython.noop)]
