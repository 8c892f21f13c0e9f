"""Little for strangers to exhaust: before somebody has signed in the server keeps no large body, holds few connections
for one address, and closes those that say nothing.

waitress takes a request in whole, body and all, before the program sees it; so the large body of a stranger is dropped
here, and the program leads to the sign-in page (`workshop/middleware.py`).
"""

import logging
import time
from http.cookies import CookieError, SimpleCookie
from importlib import import_module
from io import BytesIO

import waitress.channel
import waitress.parser
import waitress.server
from django.conf import settings
from django.contrib.auth import SESSION_KEY
from django.db import DatabaseError

log = logging.getLogger(__name__)

FEW = 40
"""Connections of one address on which nothing was answered yet; a browser opens six."""
SILENT_S = 20
"""With a connection on which nothing at all has come."""
IDLE_S = 60
"""Between two requests of one connection."""
UNFINISHED_S = 30
"""For the headers of a request, and for the whole of a small one."""
LOOK_EVERY_S = 5
DROPPED = "COTTER_DROPPED"
"""The header by which the program knows that the body was not kept."""


class Dropped:
    """Stands where waitress keeps the body of a request, and keeps nothing of it. The rest is still taken off the
    line: to hang up on a browser that is sending would show its own error in place of our answer."""

    error = None

    def __init__(self, length: int):
        self.left = length

    @property
    def completed(self) -> bool:
        return self.left <= 0

    def received(self, data: bytes) -> int:
        taken = min(len(data), self.left)
        self.left -= taken
        return taken

    def getfile(self) -> BytesIO:
        return BytesIO()

    getbuf = getfile

    def __len__(self) -> int:
        return 0


class Parser(waitress.parser.HTTPRequestParser):
    def __init__(self, adj):
        super().__init__(adj)
        self.began = time.time()

    def parse_header(self, header_plus):
        super().parse_header(header_plus)
        self.headers.pop(DROPPED, None)
        large = self.chunked or self.content_length > settings.LARGEST_OF_STRANGERS
        if large and not is_signed_in(self.headers.get("COOKIE", "")):
            if self.chunked:
                raise waitress.parser.ParsingError("Sign in first, or say how long the request is.")
            self.headers[DROPPED] = "yes"
            self.body_rcv = Dropped(self.content_length)


def is_signed_in(cookies: str) -> bool:
    """Asked only for a large body; the program looks again, and closer."""
    try:
        session = SimpleCookie(cookies).get(settings.SESSION_COOKIE_NAME)
        store = import_module(settings.SESSION_ENGINE).SessionStore
        return session is not None and SESSION_KEY in store(session.value)
    except (CookieError, DatabaseError) as trouble:
        log.warning("A large request was refused: %s", trouble)
        return False


class Channel(waitress.channel.HTTPChannel):
    parser_class = Parser
    answered = False

    def service(self):
        super().service()
        self.answered = True

    def is_over(self, now: float) -> bool:
        """Nothing runs on it, and nothing comes any more."""
        if self.requests or self.total_outbufs_len:
            return False
        if self.request is None:
            return self.last_activity < now - (IDLE_S if self.answered else SILENT_S)
        large = self.request.headers_finished and self.request.content_length > settings.LARGEST_OF_STRANGERS
        return not large and self.request.began < now - UNFINISHED_S


class Server(waitress.server.TcpWSGIServer):
    channel_class = Channel

    def maintenance(self, now):
        super().maintenance(now)
        for channel in self.active_channels.values():
            if channel.is_over(now):
                channel.will_close = True

    def handle_accept(self):
        before = set(self.active_channels)
        super().handle_accept()
        for number in set(self.active_channels) - before:
            channel = self.active_channels[number]
            if self.has_enough(channel.addr[0]):
                channel.handle_close()

    def has_enough(self, address: str) -> bool:
        if settings.HTTPS and settings.TRUSTED_PROXY in (address, "*"):
            return False
        return sum(not one.answered and one.addr[0] == address for one in self.active_channels.values()) > FEW
