"""Running Cotter's own commands as the processes that people run, on a data folder of the test's own.

Loading Python and all of Cotter is most of what a command costs. So each is forked from a process that has done so
(`tests/loaded.py`), except where `anew` asks for the whole of it.
"""

import multiprocessing
import os
import re
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OURS = ("COTTER_", "DATABASE_URL", "DJANGO_")
FORKING = multiprocessing.get_context("forkserver" if os.name == "posix" else "spawn")
if os.name == "posix":
    FORKING.set_forkserver_preload(["tests.loaded"])


def environment(data: Path, **more: str) -> dict[str, str]:
    """This process's, with nothing in it that would lead to another register, or that was set for a browser."""
    return {k: v for k, v in os.environ.items() if not k.startswith(OURS)} | {"COTTER_DATA": str(data)} | more


class Forked(FORKING.Process):
    """`manage.py` in a process of its own; to the test as a Popen."""

    def __init__(self, words: list[str], env: dict[str, str], stdout: str, stderr: str):
        super().__init__(daemon=True)
        self.words, self.env, self.files = words, env, (stdout, stderr)

    def run(self) -> None:
        for number, name in enumerate(self.files, 1):
            os.dup2(os.open(name, os.O_WRONLY | os.O_APPEND), number)
        os.environ.clear()
        os.environ.update(self.env)
        sys.argv = ["manage.py", *self.words]
        import manage

        manage.main()

    def poll(self) -> int | None:
        return self.exitcode

    def wait(self, timeout: float | None = None) -> int:
        self.join(timeout)
        if self.exitcode is None:
            raise subprocess.TimeoutExpired(self.words, timeout)
        return self.exitcode


def start(data: Path, *words, stdout: Path, stderr: Path, anew: bool = False, **more: str):
    """Begin a command of manage.py. `more` are variables, such as COTTER_HTTPS="1"."""
    words, env = [*map(str, words)], environment(data, **more)
    for file in (stdout, stderr):
        file.touch()
    if anew:
        with stdout.open("ab") as out, stderr.open("ab") as err:
            return subprocess.Popen([sys.executable, ROOT / "manage.py", *words], env=env, stdout=out, stderr=err)
    process = Forked(words, env, str(stdout), str(stderr))
    process.start()
    return process


def manage(data: Path, *words, anew: bool = False, **more: str) -> subprocess.CompletedProcess:
    """Run a command of manage.py to its end."""
    with tempfile.TemporaryDirectory() as folder:
        printed = [Path(folder, name) for name in ("stdout", "stderr")]
        process = start(data, *words, stdout=printed[0], stderr=printed[1], anew=anew, **more)
        try:
            code = process.wait(900)
        finally:
            process.kill()
        return subprocess.CompletedProcess(words, code, *(file.read_text("utf-8") for file in printed))


class Address(str):
    """Where it is served, with the process that serves it."""

    process: subprocess.Popen | Forked


@contextmanager
def serving(data: Path, *words, command: str = "serve", anew: bool = False, **more: str):
    """Cotter served on a free port; gives its address, without a slash at the end, and stops it afterwards."""
    words = [command, "--host", "127.0.0.1", "--port", "0", *words]
    # Into a file: a pipe that nobody reads fills, and then the server stands still.
    printed = data / "serving.txt"
    printed.write_bytes(b"")
    process = start(data, *words, stdout=printed, stderr=printed, anew=anew, **more)
    try:
        yield _address(process, printed)
    finally:
        process.terminate()
        try:
            process.wait(15)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def _address(process: subprocess.Popen | Forked, printed: Path) -> Address:
    for _ in range(6000):  # five minutes, for a machine with much else to do
        text = printed.read_text(encoding="utf-8")
        if found := re.search(r"Cotter is at (http://\S+)/\n", text):
            address = Address(found[1])
            address.process = process
            return address
        if process.poll() is not None:
            break
        time.sleep(0.05)
    raise RuntimeError(f"The server did not start. It said:\n{printed.read_text(encoding='utf-8')}")
