"""Old and new are never mixed, wherever the swap stops."""

import errno
from pathlib import Path

import pytest

from workshop.backups import swapping
from workshop.backups.swapping import finish_interrupted_restore, is_interrupted, swap


class PowerCut(BaseException):
    pass


@pytest.fixture
def moves(tmp_path) -> list[tuple[Path, Path]]:
    for name in ("database", "new/database", "new/pictures/a.jpg", "pictures/a.jpg"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("new" if name.startswith("new") else "old")
    (tmp_path / "old").mkdir()
    names = [
        ("database", "old/database"),
        ("new/database", "database"),
        ("pictures", "old/pictures"),
        ("new/pictures", "pictures"),
    ]
    return [(tmp_path / source, tmp_path / target) for source, target in names]


def stop_after(number: int, trouble: BaseException, monkeypatch) -> None:
    real, made = swapping._move, []

    def move(source, target):
        if len(made) == number:
            made.append(None)
            raise trouble
        made.append(source)
        real(source, target)

    monkeypatch.setattr(swapping, "_move", move)


def what_is_there(data: Path) -> set[str]:
    return {(data / name).read_text() for name in ("database", "pictures/a.jpg")}


def test_all_of_it(tmp_path, moves):
    swap(tmp_path, moves)
    assert what_is_there(tmp_path) == {"new"}
    assert (tmp_path / "old/database").read_text() == "old"
    assert not is_interrupted(tmp_path)


@pytest.mark.parametrize("number", range(4))
def test_a_failure_undoes_what_was_moved(tmp_path, moves, monkeypatch, number):
    stop_after(number, OSError(errno.EIO, "broken"), monkeypatch)
    with pytest.raises(OSError, match="broken"):
        swap(tmp_path, moves)
    assert what_is_there(tmp_path) == {"old"}
    assert not is_interrupted(tmp_path)


@pytest.mark.parametrize("number", range(4))
def test_a_power_cut_is_put_right_at_the_next_start(tmp_path, moves, monkeypatch, number):
    with monkeypatch.context() as patch:
        stop_after(number, PowerCut(), patch)
        with pytest.raises(PowerCut):
            swap(tmp_path, moves)
    assert is_interrupted(tmp_path)
    assert finish_interrupted_restore(tmp_path)
    assert what_is_there(tmp_path) == {"new"}
    assert not finish_interrupted_restore(tmp_path)


def test_where_nothing_was_before(tmp_path, monkeypatch):
    (tmp_path / "new").mkdir()
    (tmp_path / "new/database").write_text("new")
    move = (tmp_path / "new/database", tmp_path / "database")
    with monkeypatch.context() as patch:
        stop_after(0, PowerCut(), patch)
        with pytest.raises(PowerCut):
            swap(tmp_path, [move])
    finish_interrupted_restore(tmp_path)
    assert (tmp_path / "database").read_text() == "new"


def test_between_two_disks_the_file_is_copied(tmp_path, monkeypatch):
    def rename(source, target):
        raise OSError(errno.EXDEV, "another disk")

    (tmp_path / "a").write_text("content")
    monkeypatch.setattr(swapping.os, "rename", rename)
    swap(tmp_path, [(tmp_path / "a", tmp_path / "b")])
    assert (tmp_path / "b").read_text() == "content"
    assert not (tmp_path / "a").exists()
