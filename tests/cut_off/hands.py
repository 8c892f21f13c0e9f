"""What a person does without a window: pages read, and forms sent as plain requests."""

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
        self._ask = ask

    def get(self, address: str) -> Page:
        return self._followed(address, *self._ask("GET", address, b"", {}))

    def post(self, address: str, headers=(), **entered) -> Page:
        body = encode_multipart(BOUNDARY, entered)
        kind = {"Content-Type": MULTIPART_CONTENT, "Content-Length": str(len(body))}
        return self._followed(address, *self._ask("POST", address, body, kind | dict(headers)))

    def send(self, address: str, **entered) -> Page:
        """The form of this page, as it stands there but for this."""
        return self.post(address, **sent_back(self.get(address).html) | entered)

    def _followed(self, address: str, onward: str, html: str) -> Page:
        while onward:
            address = onward
            onward, html = self._ask("GET", address.partition("#")[0], b"", {})
        return Page(address, html)


def hands_of(person, wire) -> Hands:
    """In the session of their window."""

    def ask(method, address, body, headers):
        cookies = {one["name"]: one["value"] for one in person.page.context.cookies(person.address)}
        token = next(value for name, value in cookies.items() if name.endswith("_csrf"))
        mine = {"Host": person.address.split("//")[1], "X-CSRFToken": token}
        mine["Cookie"] = "; ".join(f"{name}={value}" for name, value in cookies.items())
        status, answered, html = wire.ask(method, address, body, mine | headers)
        assert status < 400, f"{method} {address} is refused: {status}"
        return dict(answered).get("Location", ""), html.decode()

    return Hands(ask)
