import os
import stat
from pathlib import Path

import pytest

from core.disk.data_folder import data_folder, default_folder, secret_key

HOME = Path("/home/ada")


def test_the_folder_follows_the_xdg_base_directory_specification():
    # XDG Base Directory Specification 0.8: $HOME/.local/share by default, and a relative path is to be ignored.
    assert default_folder({}, "linux", HOME) == HOME / ".local/share/cotter"
    assert default_folder({"XDG_DATA_HOME": "/srv/data"}, "linux", HOME) == Path("/srv/data/cotter")
    assert default_folder({"XDG_DATA_HOME": "srv/data"}, "linux", HOME) == HOME / ".local/share/cotter"


def test_windows_and_macos_have_their_own():
    assert default_folder({"LOCALAPPDATA": "/c/Local"}, "win32", HOME) == Path("/c/Local/Cotter")
    assert default_folder({}, "win32", HOME) == HOME / "AppData/Local/Cotter"
    assert default_folder({}, "darwin", HOME) == HOME / "Library/Application Support/Cotter"


def test_the_demo_has_a_folder_of_its_own(tmp_path):
    real, demo = {"COTTER_DATA": str(tmp_path)}, {"COTTER_DATA": str(tmp_path), "COTTER_DEMO": "1"}
    assert data_folder(real) == tmp_path
    assert data_folder(demo) == tmp_path / "demo"


def test_only_the_owner_may_enter(tmp_path):
    folder = data_folder({"COTTER_DATA": str(tmp_path / "new")})
    assert stat.S_IMODE(os.stat(folder).st_mode) == 0o700


class TestSecretKey:
    def test_it_is_made_once_and_kept(self, tmp_path):
        key = secret_key(tmp_path)
        assert len(key) >= 50
        assert secret_key(tmp_path) == key

    def test_two_folders_have_two_keys(self, tmp_path):
        (tmp_path / "a").mkdir()
        assert secret_key(tmp_path) != secret_key(tmp_path / "a")

    def test_only_the_owner_may_read_it(self, tmp_path):
        secret_key(tmp_path)
        assert stat.S_IMODE(os.stat(tmp_path / "secret-key").st_mode) == 0o600

    def test_an_empty_one_is_never_used(self, tmp_path):
        (tmp_path / "secret-key").touch()
        with pytest.raises(SystemExit, match="is empty. Delete that file"):
            secret_key(tmp_path)
