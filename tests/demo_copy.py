"""The demo for tests that drive a server: built once in a run, and then copied as files, one copy for each module."""

import os
import shutil
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.running import manage, serving

PASSWORD = "axlebox"
LOCOMOTIVE = "embermoss-5"
PATIENCE_S = 600  # with another worker that builds the demo on a busy machine


class Register:
    """A served copy of the demo: its address, and its database looked into from outside."""

    def __init__(self, address: str, folder: Path):
        self.address, self.folder, self.data = address, folder, folder / "demo"

    def rows(self, sql: str, *values) -> list[tuple]:
        with closing(sqlite3.connect(self.data / "cotter.sqlite3", timeout=20)) as database:
            return database.execute(sql, values).fetchall()

    def one(self, sql: str, *values):
        """The only value of the only row."""
        ((value,),) = self.rows(sql, *values)
        return value


@pytest.fixture(scope="session")
def built_demo(tmp_path_factory) -> Path:
    """The data folder of the demo, which no test touches. Workers share it: the first one builds, the others wait."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    begun, built, failed = (shared / f"demo-{word}" for word in ("begun", "built", "failed"))
    try:
        begun.mkdir()  # of two who try it, one fails
    except FileExistsError:
        return _waited_for(built, failed)
    done = manage(begun / "folder", "demo", "--no-serve")
    if done.returncode:
        failed.write_text(done.stderr)
        pytest.fail(done.stderr)
    return (begun / "folder").rename(built)


def _waited_for(built: Path, failed: Path) -> Path:
    until = time.monotonic() + PATIENCE_S
    while not built.exists():
        assert not failed.exists(), failed.read_text()
        assert time.monotonic() < until, "The worker that was to build the demo has not done so."
        time.sleep(0.2)
    return built


@pytest.fixture(scope="module")
def copied(built_demo, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "copy"
    return Path(shutil.copytree(built_demo, folder))


@pytest.fixture(scope="module")
def register(copied) -> Iterator[Register]:
    """A copy of the demo, served."""
    with serving(copied, COTTER_DEMO="1") as address:
        yield Register(address, copied)
