"""Running Cotter's own commands as the processes that people run, on a data folder of the test's own."""

import os
import re
import subprocess
import sys
import time
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OURS = ("COTTER_", "DATABASE_URL", "DJANGO_SETTINGS_MODULE")


def environment(data: Path, **more: str) -> dict[str, str]:
    """This process's environment, with nothing in it that would lead to another register."""
    return {k: v for k, v in os.environ.items() if not k.startswith(OURS)} | {"COTTER_DATA": str(data)} | more


def manage(data: Path, *words, **more: str) -> subprocess.CompletedProcess:
    """Run a command of manage.py to its end. `more` are variables, such as COTTER_HTTPS="1"."""
    command = [sys.executable, ROOT / "manage.py", *map(str, words)]
    return subprocess.run(command, env=environment(data, **more), capture_output=True, text=True, timeout=900)


class Address(str):
    """Where it is served, with the process that serves it."""

    process: subprocess.Popen


@contextmanager
def serving(data: Path, *words, command: str = "serve", **more: str):
    """Cotter served on a free port; gives its address, without a slash at the end, and stops it afterwards."""
    words = [command, "--host", "127.0.0.1", "--port", "0", *map(str, words)]
    # Into a file: a pipe that nobody reads fills, and then the server stands still.
    with (data / "serving.txt").open("w+", encoding="utf-8") as printed:
        process = subprocess.Popen(
            [sys.executable, ROOT / "manage.py", *words], env=environment(data, **more), stdout=printed, stderr=printed
        )
        try:
            yield _address(process, data / "serving.txt")
        finally:
            process.terminate()
            try:
                process.wait(15)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()


def _address(process: subprocess.Popen, printed: Path) -> Address:
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
