"""The server as people run it: a process of its own, on a data folder of its own."""

import errno
import gzip
import json
import os
import re
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from contextlib import closing
from pathlib import Path

import pytest

from parts.photos.writers import NAME_BYTES
from tests.running import manage, serving
from tests.template_database import new_register
from workshop.serving.server import addresses, why_not_listening


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """With what an upload left when the power failed yesterday."""
    folder = tmp_path_factory.mktemp("served")
    left = folder / "originals" / f"{'0a' * NAME_BYTES}.jpg"
    left.parent.mkdir()
    left.write_bytes(b"half a photo")
    os.utime(left, (0, 0))
    return folder


@pytest.fixture(scope="module")
def cotter(folder):
    with serving(folder, anew=True) as address:
        yield address


def get(url: str, **headers: str):
    """The answer, whatever its status; redirects are not followed."""
    opener = urllib.request.build_opener(NoRedirect, urllib.request.ProxyHandler({}))
    try:
        return opener.open(urllib.request.Request(url, headers=headers), timeout=20)
    except urllib.error.HTTPError as answer:
        return answer


class NoRedirect(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *args):
        return None


def test_it_makes_all_it_needs_in_the_data_folder(cotter, folder):
    assert {"cotter.sqlite3", "secret-key", "static"} <= {path.name for path in folder.iterdir()}


def test_what_an_upload_left_behind_is_swept_at_the_start(cotter, folder):
    assert list((folder / "originals").iterdir()) == []


def test_it_answers_a_new_visitor(cotter):
    assert get(f"{cotter}/sign-in/").status == 200


def test_pages_are_sent_small_and_a_cache_knows_them_from_fragments(cotter):
    answer = get(f"{cotter}/sign-in/", **{"Accept-Encoding": "gzip"})
    assert answer.headers["Content-Encoding"] == "gzip"
    assert b"<h1" in gzip.decompress(answer.read())
    assert {"HX-Request", "Accept-Encoding", "Cookie"} <= set(re.split(r",\s*", answer.headers["Vary"]))


def test_a_page_that_is_not_there(cotter):
    assert get(f"{cotter}/no/such/page").status == 404


def test_a_request_to_another_name_is_refused(cotter):
    assert get(f"{cotter}/sign-in/", Host="evil.example").status == 400


def test_every_page_forbids_what_no_page_needs(cotter):
    """The directives as CSP Level 3 names them; without 'unsafe-inline' no inline script or style runs."""
    headers = get(f"{cotter}/sign-in/").headers
    policy = dict(part.strip().partition(" ")[::2] for part in headers["Content-Security-Policy"].split(";"))
    assert policy["default-src"] == policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Permissions-Policy"].startswith("camera=(self)")
    assert headers["Server"] is None


def test_static_files_may_be_kept_for_ever(cotter, folder):
    paths = json.loads((folder / "static" / "staticfiles.json").read_text())["paths"]
    answer = get(f"{cotter}/static/{paths['vendor/htmx.min.js']}", **{"Accept-Encoding": "gzip"})
    assert answer.status == 200
    assert answer.headers["Content-Encoding"] == "gzip"
    assert "immutable" in answer.headers["Cache-Control"]
    assert int(re.search(r"max-age=(\d+)", answer.headers["Cache-Control"])[1]) >= 365 * 24 * 60 * 60


@pytest.mark.parametrize(
    "path", ["originals/a.jpg", "pictures/../originals/a.jpg", "static/../secret-key", "cotter.sqlite3"]
)
def test_no_address_leads_to_the_data_folder(cotter, folder, path):
    (folder / "originals").mkdir(exist_ok=True)
    (folder / "originals" / "a.jpg").write_bytes(b"with its location")
    for address in (f"{cotter}/{path}", f"{cotter}/{path.replace('..', '%2e%2e')}"):
        assert get(address).status in (301, 302, 400, 404)


def test_the_folder_is_served_by_one_at_a_time(cotter, folder):
    refused = manage(folder, "serve", "--port", "0")
    assert refused.returncode
    assert "Stop that one first." in refused.stderr


def test_twenty_uploads_stuck_half_way_hold_nobody_up(cotter):
    """Phones at the edge of the wifi: each has sent the head of its request and a part of the picture."""
    host, port = cotter.removeprefix("http://").split(":")
    head = f"POST /sign-in/ HTTP/1.1\r\nHost: {host}\r\nContent-Length: 5000000\r\n\r\n".encode()
    stuck = [socket.create_connection((host, int(port)), timeout=10) for _ in range(20)]
    try:
        for connection in stuck:
            connection.sendall(head + b"x" * 100_000)
        assert get(f"{cotter}/sign-in/").status == 200
    finally:
        for connection in stuck:
            connection.close()


def test_a_taken_port_is_told_with_the_mend(tmp_path):
    with closing(socket.create_server(("127.0.0.1", 0))) as taken:
        port = taken.getsockname()[1]
        refused = manage(new_register(tmp_path), "serve", "--host", "127.0.0.1", "--port", port)
    assert f"Port {port} is taken by another program. Choose another" in refused.stderr
    assert "Traceback" not in refused.stderr


@pytest.mark.parametrize(
    ("words", "sentence"),
    [(["--port", "80 80"], "--port"), (["--port", "65536"], "--port"), (["--host", "not an address"], "is no address")],
)
def test_a_bad_word_is_named(tmp_path, words, sentence):
    refused = manage(new_register(tmp_path), "serve", *words)
    assert refused.returncode
    assert sentence in refused.stderr
    assert "Traceback" not in refused.stderr


def test_a_request_to_stop_is_obeyed_in_silence(tmp_path):
    with serving(new_register(tmp_path)) as address:
        get(f"{address}/sign-in/")
    text = (tmp_path / "serving.txt").read_text()
    assert "Stopped." in text
    assert "Traceback" not in text
    assert "Stopped." in (tmp_path / "logs" / "cotter.log").read_text()


@pytest.fixture(scope="module")
def https(tmp_path_factory):
    folder = new_register(tmp_path_factory.mktemp("https"))
    with serving(folder, COTTER_HTTPS="1", COTTER_HOSTS="cotter.example.org") as address:
        yield address


def test_with_https_plain_requests_are_sent_there(https):
    answer = get(f"{https}/sign-in/", Host="cotter.example.org")
    assert (answer.status, answer.headers["Location"]) == (301, "https://cotter.example.org/sign-in/")


def test_with_https_what_the_proxy_received_by_it_is_answered(https):
    answer = get(f"{https}/sign-in/", **{"Host": "cotter.example.org", "X-Forwarded-Proto": "https"})
    assert answer.status == 200
    assert answer.headers["Strict-Transport-Security"].startswith("max-age=31536000")
    assert "Secure" in answer.headers["Set-Cookie"]


def test_with_https_a_visitor_cannot_pass_for_the_proxy(tmp_path):
    with serving(new_register(tmp_path), COTTER_HTTPS="1", COTTER_PROXY="192.0.2.7") as address:
        assert get(f"{address}/sign-in/", **{"X-Forwarded-Proto": "https"}).status == 301


def test_while_phones_move_to_https_both_answer_and_hsts_waits(tmp_path):
    """RFC 6797, section 8.3: a browser that was told HSTS opens no page under http, so not what waits there either."""
    name = {"Host": "cotter.example.org"}
    with serving(new_register(tmp_path), COTTER_HTTPS="both", COTTER_HOSTS="cotter.example.org") as address:
        for more in ({}, {"X-Forwarded-Proto": "https"}):
            answer = get(f"{address}/sign-in/", **name | more)
            assert (answer.status, answer.headers["Strict-Transport-Security"]) == (200, None)
            assert "Secure" not in answer.headers["Set-Cookie"]


def test_without_https_a_forwarded_header_changes_nothing(cotter):
    answer = get(f"{cotter}/sign-in/", **{"X-Forwarded-Proto": "https"})
    assert answer.status == 200
    assert "Secure" not in answer.headers["Set-Cookie"]
    assert answer.headers["Strict-Transport-Security"] is None


@pytest.mark.parametrize("variables", [{}, {"COTTER_HTTPS": "1"}])
def test_django_finds_nothing_amiss_in_a_real_installation(tmp_path, variables):
    checked = manage(tmp_path, "check", "--deploy", "--fail-level", "WARNING", **variables)
    assert not checked.returncode, checked.stderr


def test_the_address_for_phones_is_shown_unless_it_listens_on_one_only():
    assert addresses("127.0.0.1", 8000) == ["http://127.0.0.1:8000/"]
    assert addresses("::1", 8000) == ["http://[::1]:8000/"]
    assert addresses("0.0.0.0", 8000)[0] == "http://localhost:8000/"


def test_other_trouble_with_listening_is_told_too():
    assert "above 1023" in why_not_listening(OSError(errno.EACCES, "x"), "0.0.0.0", 80)
    assert "Cannot listen on 203.0.113.9, port 8000" in why_not_listening(OSError(99, "no"), "203.0.113.9", 8000)


def test_a_bad_command_before_anything_is_installed_says_so(tmp_path):
    root = Path(__file__).resolve().parents[3]
    done = subprocess.run(
        [sys.executable, "-S", root / "manage.py", "check"], capture_output=True, text=True, cwd=tmp_path
    )
    assert done.stderr.strip() == "Cotter is not installed yet. Run: python3 run.py demo"
