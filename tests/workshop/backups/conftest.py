import shutil
from pathlib import Path

import pytest

from tests.running import manage
from tests.workshop.backups.register import write


@pytest.fixture(scope="session")
def new_register(tmp_path_factory) -> Path:
    """A data folder with an empty register and two pictures."""
    folder = tmp_path_factory.mktemp("new-register")
    done = manage(folder, "migrate")
    assert not done.returncode, done.stderr
    for name, content in {
        "originals/2026/a.jpg": b"\xff\xd8 as it came",
        "pictures/a-large.jpg": b"\xff\xd8 as shown",
    }.items():
        (folder / name).parent.mkdir(parents=True)
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture
def register(new_register, tmp_path) -> Path:
    """The same, for one test to do with as it likes, with a note in its database."""
    folder = tmp_path / "register"
    shutil.copytree(new_register, folder)
    write(folder, "CREATE TABLE note (text)")
    write(folder, "INSERT INTO note VALUES ('as backed up')")
    return folder


@pytest.fixture
def backup(register, tmp_path) -> Path:
    file = tmp_path / "backup.zip"
    done = manage(register, "backup", file)
    assert not done.returncode, done.stderr
    return file
