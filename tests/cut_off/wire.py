"""A wire between a browser and the server. It can be cut, or lose what is sent, or lose the answer to it."""

import http.client
import threading
from contextlib import contextmanager
from enum import Enum, auto
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

OF_THIS_WIRE = {"connection", "transfer-encoding", "keep-alive"}
"""Headers that are not passed on (RFC 9110, section 7.6.1)."""


class State(Enum):
    WHOLE = auto()
    CUT = auto()
    LOSES_WHAT_IS_SENT = auto()
    LOSES_THE_ANSWER = auto()


class Wires(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request, client_address) -> None:
        """The browser went on to another page, and no longer listens."""


class Wire:
    def __init__(self, address: str):
        self.state, self.lost = State.WHOLE, 0
        self._to = address.removeprefix("http://")
        self._server = Wires(("127.0.0.1", 0), type("Passing", (Passing,), {"wire": self}))
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        self.address = f"http://127.0.0.1:{self._server.server_address[1]}"

    def ask(self, method: str, path: str, body: bytes, headers) -> tuple[int, list[tuple[str, str]], bytes]:
        connection = http.client.HTTPConnection(self._to, timeout=60)
        try:
            connection.request(method, path, body, headers)
            answer = connection.getresponse()
            return answer.status, answer.getheaders(), answer.read()
        finally:
            connection.close()

    @contextmanager
    def being(self, state: State):
        self.state = state
        try:
            yield
        finally:
            self.state = State.WHOLE

    def close(self) -> None:
        self._server.shutdown()
        self._server.server_close()


class Passing(BaseHTTPRequestHandler):
    wire: Wire
    protocol_version = "HTTP/1.1"

    def passes(self) -> None:
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        losing = self.command == "POST" and self.wire.state in (State.LOSES_WHAT_IS_SENT, State.LOSES_THE_ANSWER)
        if losing or self.wire.state is State.CUT:
            if self.wire.state is State.LOSES_THE_ANSWER:
                self.wire.ask(self.command, self.path, body, dict(self.headers))
            self.wire.lost += losing  # once the server has done it, however long that takes
            self.close_connection = True
            return
        status, headers, answer = self.wire.ask(self.command, self.path, body, dict(self.headers))
        self.send_response_only(status)
        for name, value in headers:
            if name.lower() not in OF_THIS_WIRE | {"content-length"}:
                self.send_header(name, value)
        self.send_header("Content-Length", str(len(answer)))
        self.end_headers()
        self.wfile.write(answer)

    do_GET = do_POST = do_HEAD = passes

    def log_message(self, format, *args) -> None:
        """Nobody reads it."""
