"""The demo keeps to its own folder, whatever else it could reach."""

import re
import time

from core.roles import Role
from tests.running import manage, serving, start
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


def test_one_that_was_not_finished_is_built_anew(copied, tmp_path):
    """Its beginning is enough here: what is built comes to the same."""
    (copied / "demo" / "demo.json").unlink()
    said = tmp_path / "said.txt"
    building = start(copied, "demo", "--no-serve", stdout=said, stderr=said)
    while "Building the demo" not in said.read_text("utf-8"):
        assert building.poll() is None
        time.sleep(0.05)
    building.kill()
    building.wait()


def test_no_command_on_the_real_register_builds_it(tmp_path):
    refused = manage(tmp_path, "shell", "-v0", "-c", "from workshop.serving import demo; demo.build()")
    assert "The demo has a data folder of its own." in refused.stderr
