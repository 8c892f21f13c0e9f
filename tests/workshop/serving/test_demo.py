"""The demo keeps to its own folder, whatever else it could reach."""

import re
import subprocess
import sys

from core.roles import Role
from tests.running import ROOT, environment, manage, serving
from tests.template_database import template


def test_it_is_built_in_a_folder_of_its_own(built_demo):
    """Though a DATABASE_URL named the register beside it, which is as it was."""
    assert (built_demo / "demo" / "cotter.sqlite3").exists()
    assert not list(built_demo.glob("pictures/*"))
    assert (built_demo / "cotter.sqlite3").read_bytes() == template().read_bytes()


def test_it_prints_a_sign_in_for_each_role_and_where_it_is(built_demo):
    text = (built_demo / "said.txt").read_text("utf-8")
    assert re.search(r"^The demo's data folder is .*[/\\]demo\.$", text, re.MULTILINE)
    for role in Role:
        assert re.search(rf"^  {role}\s+\S+\s+\S+$", text, re.MULTILINE)


def test_it_is_kept_for_the_next_time(copied):
    before = (copied / "demo" / "cotter.sqlite3").stat().st_ino
    again = manage(copied, "demo", "--no-serve").stdout
    assert "Building" not in again
    assert f"The demo's data folder is {copied / 'demo'}." in again
    assert sign_ins(again) == sign_ins((copied / "said.txt").read_text("utf-8")) != []
    assert (copied / "demo" / "cotter.sqlite3").stat().st_ino == before


def sign_ins(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.startswith("  ")]


def test_it_is_served(copied):
    with serving(copied, command="demo") as address:
        assert address.startswith("http://127.0.0.1:")


def test_one_that_was_not_finished_is_built_anew(copied):
    """Its beginning is enough here: what is built comes to the same."""
    (copied / "demo" / "demo.json").unlink()
    command = [sys.executable, "-u", ROOT / "manage.py", "demo", "--no-serve"]
    with subprocess.Popen(command, env=environment(copied), stdout=subprocess.PIPE, text=True) as building:
        begun = any("Building the demo" in line for line in building.stdout)
        building.kill()
    assert begun


def test_no_command_on_the_real_register_builds_it(tmp_path):
    code = "import django; django.setup(); from workshop.serving import demo; demo.build()"
    refused = run_python(tmp_path, code)
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
