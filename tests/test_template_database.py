"""What tests begin with is what `migrate` would make now, not what it made some time ago."""

import inspect
from pathlib import Path

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import connection

from parts.models import triggers
from tests import made_once, template_database


@pytest.mark.django_db
def test_the_database_is_migrated_to_the_end_and_has_its_triggers():
    call_command("migrate", check_unapplied=True)
    assert triggers.missing() == []


def test_a_template_is_not_used_after_a_change_of_what_it_was_made_from(monkeypatch, tmp_path):
    assert template_database.key("sqlite") == template_database.key("sqlite")
    changed = tmp_path / "0001_initial.py"
    monkeypatch.setattr(made_once, "ROOT", tmp_path)
    monkeypatch.setattr(template_database, "sources", lambda: {changed})
    keys = set()
    for text in ("", "operations = []"):
        changed.write_text(text)
        keys |= {template_database.key(vendor) for vendor in ("sqlite", "postgresql")}
    assert len(keys) == 4


def test_what_is_made_once_is_made_by_the_first_who_asks(monkeypatch, tmp_path):
    monkeypatch.setattr(made_once, "folder", lambda: tmp_path)
    for text in ("first", "second"):
        kept = made_once.made_once("thing-1", lambda part, text=text: part.write_text(text))
    assert kept.read_text() == "first"


def test_what_was_not_made_to_the_end_is_made_anew(monkeypatch, tmp_path):
    monkeypatch.setattr(made_once, "folder", lambda: tmp_path)

    def fail(part):
        part.mkdir()
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        made_once.made_once("thing-1", fail)
    assert made_once.made_once("thing-1", lambda part: part.write_text("whole")).read_text() == "whole"


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
    assert template_database._exists(connection, f"cotter_template_{template_database.key('postgresql')}")
