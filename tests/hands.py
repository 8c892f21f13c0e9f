"""What a person does without a window: pages read, and forms sent as plain requests."""

import http.client
from collections.abc import Callable
from typing import NamedTuple

from django.test.client import BOUNDARY, MULTIPART_CONTENT, encode_multipart

from tests.as_shown import sent_back


class Page(NamedTuple):
    address: str
    html: str

    @property
    def main(self) -> str:
        return self.html.partition("<main")[2].partition("</main>")[0]


class Hands:
    """`ask` takes method, address, body and headers, and gives where it leads on, if it does, and the page."""

    def __init__(self, ask: Callable[..., tuple[str, str]]):
        self.ask = ask

    def get(self, address: str) -> Page:
        return self._followed(address, *self.ask("GET", address, b"", {}))

    def post(self, address: str, headers=(), **entered) -> Page:
        body = encode_multipart(BOUNDARY, entered)
        kind = {"Content-Type": MULTIPART_CONTENT, "Content-Length": str(len(body))}
        return self._followed(address, *self.ask("POST", address, body, kind | dict(headers)))

    def send(self, address: str, **entered) -> Page:
        """The form of this page, as it stands there but for this."""
        return self.post(address, **sent_back(self.get(address).html) | entered)

    def _followed(self, address: str, onward: str, html: str) -> Page:
        while onward:
            address = onward
            assert not address.startswith("/sign-in/"), "nobody is signed in"
            onward, html = self.ask("GET", address.partition("#")[0], b"", {})
        return Page(address, html)


def with_cookies(address: str, cookies: Callable[[], dict[str, str]]) -> Hands:
    """At a server of this machine, by whatever name a browser calls it. The cookies stay as they are."""
    name = address.partition("//")[2]

    def ask(method, path, body, headers):
        mine = cookies()
        token = next(value for key, value in mine.items() if key.endswith("_csrf"))
        sent = {"Host": name, "X-CSRFToken": token, "Cookie": "; ".join(f"{key}={mine[key]}" for key in mine)}
        connection = http.client.HTTPConnection("127.0.0.1", int(name.partition(":")[2]), timeout=60)
        try:
            connection.request(method, path, body, sent | headers)
            answer = connection.getresponse()
            html = answer.read().decode()
        finally:
            connection.close()
        assert answer.status < 400, f"{method} {path} is refused: {answer.status}"
        return answer.getheader("Location", ""), html

    return Hands(ask)
