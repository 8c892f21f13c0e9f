"""What tests begin with is what `migrate` would make now, not what it made some time ago."""

import inspect
from pathlib import Path

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import connection

from parts.models import triggers
from tests import template_database


@pytest.mark.django_db
def test_the_database_is_migrated_to_the_end_and_has_its_triggers():
    call_command("migrate", check_unapplied=True)
    assert triggers.missing() == []


def test_a_template_is_not_used_after_a_change_of_what_it_was_made_from(monkeypatch, tmp_path):
    before = template_database.key("sqlite")
    assert template_database.key("sqlite") == before
    changed = tmp_path / "0001_initial.py"
    changed.write_text("")
    monkeypatch.setattr(template_database, "ROOT", tmp_path)
    monkeypatch.setattr(template_database, "sources", lambda: {changed})
    empty = template_database.key("sqlite")
    changed.write_text("operations = []")
    assert len({before, empty, template_database.key("sqlite"), template_database.key("postgresql")}) == 4


def test_a_template_is_made_from_migrations_models_and_the_figures_in_them():
    sources = template_database.sources()
    models = {Path(inspect.getsourcefile(model)) for model in apps.get_models() if model._meta.app_label == "parts"}
    assert models
    assert models <= sources
    assert {"0001_initial.py", "densities.csv"} <= {file.name for file in sources}
    assert all(file.relative_to(template_database.ROOT).parts[0] != ".venv" for file in sources)


@pytest.mark.needs_postgres
@pytest.mark.django_db
def test_on_postgresql_a_database_is_kept_to_copy():
    assert template_database._Database(connection).there()
