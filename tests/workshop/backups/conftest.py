import shutil
from pathlib import Path

import pytest

from tests import template_database
from tests.running import manage
from tests.workshop.backups.register import write


@pytest.fixture(scope="session")
def new_register(tmp_path_factory) -> Path:
    """A data folder with an empty register and two pictures."""
    folder = template_database.new_register(tmp_path_factory.mktemp("new-register"))
    for name, content in {
        "originals/2026/a.jpg": b"\xff\xd8 as it came",
        "pictures/a-large.jpg": b"\xff\xd8 as shown",
    }.items():
        (folder / name).parent.mkdir(parents=True)
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture(scope="session")
def backed_up(new_register, tmp_path_factory) -> tuple[Path, Path]:
    """The same with a note in its database, and a backup of it."""
    write(new_register, "CREATE TABLE note (text)")
    write(new_register, "INSERT INTO note VALUES ('as backed up')")
    file = tmp_path_factory.mktemp("backup") / "backup.zip"
    done = manage(new_register, "backup", file, anew=True)
    assert not done.returncode, done.stderr
    return new_register, file


@pytest.fixture
def register(backed_up, tmp_path) -> Path:
    """A copy for one test to do with as it likes."""
    return Path(shutil.copytree(backed_up[0], tmp_path / "register"))


@pytest.fixture
def backup(backed_up, tmp_path) -> Path:
    return Path(shutil.copy(backed_up[1], tmp_path / "backup.zip"))
