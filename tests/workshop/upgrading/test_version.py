"""One number says which version this is, wherever it is asked for."""

import json
import subprocess
import sys
import tomllib
import zipfile

import pytest

from core import __version__
from core.roles import Role
from tests.factories import a_person
from tests.fixtures.register_1.make import FILE
from tests.running import ROOT, manage
from workshop.upgrading import command_line

SAID = f"Cotter {__version__}"


def test_it_is_the_one_of_the_project():
    assert __version__ == tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["version"]


@pytest.mark.parametrize("word", ["version", "--version"])
def test_the_command_line_says_it(word, capsys):
    command_line.run(["manage.py", word])
    assert capsys.readouterr().out == f"{SAID}\n"


@pytest.mark.parametrize("word", ["version", "--version"])
def test_run_py_says_it_before_anything_is_installed(word, tmp_path):
    told = subprocess.run(
        [sys.executable, "-S", ROOT / "run.py", word], capture_output=True, text=True, cwd=tmp_path, check=True
    )
    assert told.stdout == f"{SAID}\n"


def test_the_list_of_commands_has_it(tmp_path):
    assert "    version\n" in manage(tmp_path, "help").stdout


@pytest.mark.django_db
@pytest.mark.parametrize("page", ["/sign-in/", "/no/such/page"])
def test_a_visitor_finds_it_at_the_foot_of_a_page(client, page):
    assert SAID in client.get(page).text.split("<footer")[1]


@pytest.mark.django_db
def test_somebody_signed_in_finds_it_at_the_foot_of_a_page(client):
    client.force_login(a_person(Role.WORKS_MANAGER))
    assert SAID in client.get("/").text.split("<footer")[1]


def test_a_backup_says_which_version_made_it():
    """The one that stands for the registers of version 0.1.0."""
    with zipfile.ZipFile(FILE) as backup:
        assert json.loads(backup.read("manifest.json"))["cotter"] == "0.1.0"
