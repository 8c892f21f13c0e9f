"""Somebody who is signed in to a running server, without a browser: plain requests with cookies."""

import json
import re
import urllib.error
import urllib.parse
import urllib.request
import uuid
from http.cookiejar import CookieJar
from typing import NamedTuple


class Answer(NamedTuple):
    status: int
    body: str
    url: str
    type: str


class Visitor:
    """One person's cookies. `follow` is off where the answer itself is of interest."""

    def __init__(self, address: str, *, follow: bool = True, cookies: CookieJar | None = None):
        self.address, self.cookies = address, CookieJar() if cookies is None else cookies
        self.number = 0  # the person's, once it has been asked for
        handlers = [urllib.request.ProxyHandler({}), urllib.request.HTTPCookieProcessor(self.cookies)]
        self.opener = urllib.request.build_opener(*handlers, *([] if follow else [StayHere]))

    def sign_in(self, username: str, password: str) -> "Visitor":
        self.get("/sign-in/")
        self.post("/sign-in/", username=username, password=password)
        assert any(cookie.name.endswith("_session") for cookie in self.cookies), f"{username} is not signed in"
        return self

    def get(self, path: str) -> Answer:
        return self._open(urllib.request.Request(self.address + path))

    def post(self, path: str, *, headers=(), **fields) -> Answer:
        body = urllib.parse.urlencode({"csrfmiddlewaretoken": self.token, **fields}).encode()
        return self._open(urllib.request.Request(self.address + path, body, dict(headers)))

    def kept(self, key: str) -> dict[str, str]:
        """The headers by which a phone sends, under this key, what it had kept."""
        self.number = self.number or json.loads(self.get("/waiting/who").body)["person"]
        return {"X-Cotter-Key": key, "X-Cotter-Person": str(self.number)}

    def upload(self, path: str, name: str, file: bytes, *, headers=()) -> Answer:
        """Send one picture, as a form does."""
        edge = uuid.uuid4().hex
        head = (
            f'--{edge}\r\nContent-Disposition: form-data; name="csrfmiddlewaretoken"\r\n\r\n{self.token}\r\n'
            f'--{edge}\r\nContent-Disposition: form-data; name="photos"; filename="{name}"\r\n'
            "Content-Type: image/jpeg\r\n\r\n"
        )
        body = head.encode() + file + f"\r\n--{edge}--\r\n".encode()
        kind = {"Content-Type": f"multipart/form-data; boundary={edge}", **dict(headers)}
        return self._open(urllib.request.Request(self.address + path, body, kind))

    @property
    def token(self) -> str:
        return next(cookie.value for cookie in self.cookies if cookie.name.endswith("_csrf"))

    def _open(self, request) -> Answer:
        try:
            answer = self.opener.open(request, timeout=120)
        except urllib.error.HTTPError as refused:
            answer = refused
        with answer:
            kind = answer.headers.get("Content-Type", "")
            return Answer(answer.status, answer.read().decode("utf-8", "replace"), answer.url, kind)


class StayHere(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *args):
        return None


def seen_in(page: str) -> str:
    """The number of the piece's last event, which its form carries."""
    field = re.search(r'<input[^>]*name="seen"[^>]*>', page)
    return re.search(r'value="(\d+)"', field[0])[1]
