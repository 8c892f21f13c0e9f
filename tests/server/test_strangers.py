"""Little for strangers to exhaust (finding 9): no large body is kept, few connections for one address, silent ones go.

Attacks come from 127.0.0.2, so that the address of the test itself stays free."""

import os
import socket
import subprocess
import sys
import time
from urllib.parse import urlsplit

import pytest

from tests.running import ROOT, serving
from tests.template_database import new_register
from workshop.serving import strangers

LINUX = pytest.mark.skipif(sys.platform != "linux", reason="only there every address of 127/8 is the machine's own")


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    with serving(new_register(tmp_path_factory.mktemp("strangers"))) as address:
        yield address


def connection(served, source="127.0.0.2") -> socket.socket:
    to = urlsplit(served)
    return socket.create_connection((to.hostname, to.port), timeout=60, source_address=(source, 0))


def answer(stranger: socket.socket) -> bytes:
    """All that comes until the server closes, or the first of it; nothing where it closed without a word."""
    try:
        return stranger.recv(65536)
    except ConnectionError:
        return b""


def head(length: int, cookie="") -> bytes:
    told = (
        f"POST /t/ABCDEFGH/photos HTTP/1.1\r\nHost: localhost\r\nContent-Length: {length}\r\nCookie: {cookie}\r\n\r\n"
    )
    return told.encode()


def draft_of(process) -> int:
    """Bytes of the unnamed files that the server has open, where waitress keeps long bodies."""
    files = f"/proc/{process.pid}/fd"
    total = 0
    for name in os.listdir(files):
        try:
            if "(deleted)" in os.readlink(f"{files}/{name}"):
                total += os.stat(f"{files}/{name}").st_size
        except OSError:
            continue
    return total


@LINUX
def test_nothing_of_a_strangers_large_body_is_kept_and_they_are_led_to_sign_in(served):
    with connection(served) as stranger:
        stranger.sendall(head(20_000_000))
        for _ in range(19):
            stranger.sendall(b"x" * 1_000_000)
        time.sleep(0.5)
        assert draft_of(served.process) < 1_000_000
        stranger.sendall(b"x" * 1_000_000)
        answered = answer(stranger)
    assert answered.startswith(b"HTTP/1.1 302")
    assert b"/sign-in/" in answered


@LINUX
def test_a_session_that_is_none_helps_nobody(served):
    with connection(served) as stranger:
        stranger.sendall(head(200_000, cookie="cotter_session=made-up; cotter_dropped=no") + b"x" * 200_000)
        assert answer(stranger).startswith(b"HTTP/1.1 302")


@LINUX
def test_a_body_of_unknown_length_is_refused(served):
    with connection(served) as stranger:
        stranger.sendall(b"POST /sign-in/ HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n")
        assert answer(stranger).startswith(b"HTTP/1.1 400")


@LINUX
def test_four_hundred_half_open_requests_keep_nobody_out(served):
    half = [connection(served) for _ in range(420)]
    try:
        for one in half:
            try:
                one.sendall(b"POST /sign-in/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5000\r\n\r\nx")
            except ConnectionError:
                continue
        with connection(served, source="127.0.0.1") as visitor:
            began = time.monotonic()
            visitor.sendall(b"GET /sign-in/ HTTP/1.1\r\nHost: localhost\r\n\r\n")
            assert answer(visitor).startswith(b"HTTP/1.1 200")
            assert time.monotonic() - began < 20
    finally:
        for one in half:
            one.close()


@LINUX
def test_connections_that_say_nothing_are_closed(tmp_path):
    """Each in its time, which is cut short here: after two seconds, and after four."""
    with serving(new_register(tmp_path), "--settings", "tests.server.impatient") as served:
        with connection(served, source="127.0.0.3") as silent, connection(served, source="127.0.0.3") as dribbling:
            began = time.monotonic()
            dribbling.sendall(b"GET /sign-in/ HTTP/1.1\r\n")
            assert answer(silent) == b""
            assert answer(dribbling) == b""
            assert 4 <= time.monotonic() - began < strangers.SILENT_S


def test_strangers_are_waited_for_half_a_minute_at_most():
    assert max(strangers.SILENT_S, strangers.UNFINISHED_S) <= 30


def test_a_picture_takes_no_more_memory_than_is_stated():
    """A PNG of 50 million pixels; one of 100 million took 960 MB (finding 9) and is refused by its head."""
    pytest.importorskip("resource")  # Windows has none
    done = subprocess.run([sys.executable, "-c", MEMORY], cwd=ROOT, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr


MEMORY = """
import resource
from io import BytesIO
from PIL import Image
from parts.photos import pictures

def png(width, height):
    file = BytesIO()
    Image.new("RGBA", (width, height)).save(file, "PNG", compress_level=1)
    return file

before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
small, large = png(7900, 6300), BytesIO()
Image.new("1", (10_000, 10_000)).save(large, "PNG")
pictures.make_pictures(small)
taken = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) * 1024
assert taken < pictures.MOST_MEMORY, taken
try:
    pictures.make_pictures(large)
except pictures.PictureError as refused:
    assert "more than 50 million pixels" in str(refused), refused
else:
    raise AssertionError("taken")
"""
