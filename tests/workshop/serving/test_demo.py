"""The demo keeps to its own folder, whatever else it could reach."""

import re
import subprocess
import sys

import pytest

from core.roles import Role
from tests.running import ROOT, environment, manage, serving


@pytest.fixture(scope="module")
def real(tmp_path_factory):
    """A folder with a real register, which a DATABASE_URL names too, and a demo built beside it."""
    folder = tmp_path_factory.mktemp("real")
    assert not manage(folder, "migrate").returncode
    return folder


@pytest.fixture(scope="module")
def built(real):
    before = (real / "cotter.sqlite3").read_bytes()
    done = manage(real, "demo", "--no-serve", DATABASE_URL=f"sqlite:///{real / 'cotter.sqlite3'}")
    assert not done.returncode, done.stderr
    assert (real / "cotter.sqlite3").read_bytes() == before
    return done.stdout


def test_it_is_built_in_a_folder_of_its_own(built, real):
    assert (real / "demo" / "cotter.sqlite3").exists()
    assert not list(real.glob("pictures/*"))
    assert f"The demo's data folder is {real / 'demo'}." in built


def test_it_prints_a_sign_in_for_each_role(built):
    for role in Role:
        assert re.search(rf"^  {role}\s+\S+\s+\S+$", built, re.MULTILINE)


def test_it_is_kept_for_the_next_time(built, real):
    before = (real / "demo" / "cotter.sqlite3").stat().st_ino
    again = manage(real, "demo", "--no-serve")
    assert "Building" not in again.stdout
    assert again.stdout in built
    assert (real / "demo" / "cotter.sqlite3").stat().st_ino == before


def test_it_is_served(built, real):
    with serving(real, command="demo") as address:
        assert address.startswith("http://127.0.0.1:")


def test_one_that_was_not_finished_is_built_anew(built, real):
    (real / "demo" / "demo.json").unlink()
    assert "Building the demo" in manage(real, "demo", "--no-serve").stdout


def test_no_command_on_the_real_register_builds_it(real):
    code = "import django; django.setup(); from workshop import demo; demo.build()"
    refused = run_python(real, code)
    assert "The demo has a data folder of its own." in refused


def run_python(folder, code: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=environment(folder, DJANGO_SETTINGS_MODULE="workshop.settings"),
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    return done.stderr
