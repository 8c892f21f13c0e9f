"""run.py: what it says on a machine where something is missing, and when it installs."""

import importlib.util
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import run

ROOT = Path(run.__file__).parent


@pytest.fixture
def environment(tmp_path, monkeypatch) -> list[list[str]]:
    """An environment that only writes down what it would install."""
    installed = []

    def note(command, **options):
        installed.append([str(word) for word in command])
        return subprocess.CompletedProcess(command, 0)

    monkeypatch.setattr(run, "STAMP", tmp_path / "stamp")
    monkeypatch.setattr(run.subprocess, "run", note)
    return installed


def test_a_machine_without_ensurepip_is_told_the_one_package(monkeypatch, tmp_path):
    """Debian's python3.11 has venv without ensurepip; its package python3.11-venv brings it."""
    real = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "ensurepip" else real(name))
    monkeypatch.setattr(run, "PYTHON", tmp_path / "none")
    with pytest.raises(SystemExit) as told:
        run.make_environment()
    package = f"python3.{sys.version_info.minor}-venv"
    assert f"one package is missing: {package}" in str(told.value)
    assert f"apt-get install {package}" in str(told.value)


def test_an_older_python_is_told_which_is_needed(monkeypatch):
    monkeypatch.setattr(run.sys, "version_info", (3, 9, 2))
    with pytest.raises(SystemExit, match="needs Python 3.11 or newer, and this is Python 3.9"):
        run.make_environment()


def test_it_installs_once(environment):
    run.install(extras=set())
    run.install(extras=set())
    assert len(environment) == 1


def test_what_is_there_for_tests_stays_there_for_the_demo(environment):
    run.install(extras={"test"})
    run.install(extras=set())
    assert len(environment) == 1


def test_the_tests_after_the_demo_need_more(environment):
    run.install(extras=set())
    run.install(extras={"test"})
    assert not any(word.startswith("pytest") for word in environment[0])
    assert any(word.startswith("pytest") for word in environment[1])


def test_a_changed_list_of_dependencies_is_installed_anew(environment, monkeypatch, tmp_path):
    for name in ("pyproject.toml", "constraints.txt"):
        (tmp_path / name).write_bytes((ROOT / name).read_bytes())
    monkeypatch.setattr(run, "ROOT", tmp_path)
    run.install(extras=set())
    (tmp_path / "constraints.txt").write_text("# another\n")
    run.install(extras=set())
    assert len(environment) == 2


def test_a_failed_installation_is_tried_again(environment, monkeypatch):
    monkeypatch.setattr(run.subprocess, "run", lambda *a, **k: subprocess.CompletedProcess(a, 1))
    with pytest.raises(SystemExit, match="Installing failed; pip says why above"):
        run.install(extras=set())
    assert not run.STAMP.exists()


def test_every_direct_dependency_is_pinned_and_bounded():
    """A lower bound that was tested and the next major version, in one file; the one version installed in the other."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    lines = (ROOT / "constraints.txt").read_text().splitlines()
    pins = {line.split("==")[0].lower().replace("_", "-") for line in lines if "==" in line}
    for requirement in project["dependencies"] + sum(project["optional-dependencies"].values(), []):
        name, bounds = requirement.split(">=")
        assert name.split("[")[0].lower() in pins
        assert ",<" in bounds


def test_constraints_name_versions_and_nothing_else():
    """No host, no hash, no option, so that any index will do."""
    lines = (ROOT / "constraints.txt").read_text().splitlines()
    assert [
        line
        for line in lines
        if not line.startswith("#")
        and not line.replace("==", "", 1).replace("-", "").replace("_", "").replace(".", "").isalnum()
    ] == []
    assert sum("==" in line for line in lines) > 40


@pytest.mark.parametrize("words", [[], ["--help"]])
def test_without_a_command_it_says_what_there_is(words, capsys):
    assert run.main(words) == (0 if words else 2)
    assert "python3 run.py demo" in capsys.readouterr().out


def test_the_readmes_first_two_blocks_are_the_two_commands():
    blocks = (ROOT / "README.md").read_text("utf-8").split("```")[1::2]
    assert [block.strip() for block in blocks[:2]] == ["python3 run.py demo", "python3 run.py test"]
