"""Serving Cotter: getting the data folder ready, then waitress until Ctrl-C.

waitress because it is plain Python, runs on Windows, and takes a request in whole before a thread begins on it: a phone
that sends a photo slowly from the far end of the yard holds nobody else up.
"""

import errno
import gc
import logging
import logging.handlers
import signal
import socket
from pathlib import Path

import waitress
import waitress.server
from django.conf import settings
from django.core.management import call_command
from django.urls import get_resolver

from core.disk import data_folder, disk_space

from .. import backups
from ..backups.nightly import Nightly
from ..upgrading.bringing_up import bring_up
from ..upgrading.compatibility import CannotUse
from . import strangers

log = logging.getLogger(__name__)

THREADS = 4  # more of them only queue for SQLite's one writer and for the interpreter lock
LARGEST_REQUEST = 512 * 1024 * 1024  # some twenty photos in one upload
PATIENCE_S = 300  # with a connection on which nothing moves
MANY_PHONES = 400  # connections at once; select() on Windows knows no more than 512


class CannotServe(Exception):
    """Why the server does not start, and what to do about it."""


def prepare(stdout) -> None:
    """Bring the register and the static files up to this version, saying on stdout what takes a while, and see that
    nothing that guards them is missing."""
    from parts.models import triggers

    backups.finish_interrupted_restore(settings.DATA)
    backups.remove_left_copies(settings.DATA)
    disk_space.hold_back(settings.DATA)
    try:
        bring_up(stdout)
    except CannotUse as refused:
        raise CannotServe(str(refused)) from None
    backups.tell_the_chain()
    call_command("collectstatic", interactive=False, verbosity=0)
    missing = triggers.missing()
    if missing:
        raise CannotServe(
            f"The database lacks the triggers that keep signed records as they are: {', '.join(missing)}. "
            "Run: python manage.py migrate"
        )
    _sweep()


def _sweep() -> None:
    """What uploads cut off by a power cut left behind goes at the next start."""
    from parts.drawings.writers import papers
    from parts.photos import writers as photos

    swept = [photos.sweep(serving=False), papers.sweep(serving=False)]
    orphans, missing = (sum(len(found[which]) for found in swept) for which in (0, 1))
    if orphans:
        log.warning("Removed %d file%s that an upload had left half way.", orphans, "" if orphans == 1 else "s")
    if missing:
        log.warning("%d files of photos or papers are missing. Run: python3 run.py sweep_photos", missing)


def listen(host: str, port: int):
    """A server that has its port, and does not run yet."""
    from ..wsgi import application

    keep_what_is_loaded()
    waitress.server.TcpWSGIServer = strangers.Server  # create_server asks for no other way in
    try:
        return waitress.create_server(application, **arguments(host, port))
    except OSError as trouble:
        raise CannotServe(why_not_listening(trouble, host, port)) from None
    except ValueError:
        raise CannotServe(f"--host {host} is no address of this computer. Leave it out to listen on all.") from None


def keep_what_is_loaded() -> None:
    """All views and what they need live as long as the server, so that the collector of garbage need not go through
    them again and again: a tenth of the time of a large page."""
    get_resolver().url_patterns  # noqa: B018  (imports them)
    gc.collect()
    gc.freeze()


def arguments(host: str, port: int) -> dict:
    """What waitress is told."""
    told = {
        "host": host,
        "port": port,
        "threads": THREADS,
        "ident": None,
        "channel_timeout": PATIENCE_S,
        "cleanup_interval": strangers.LOOK_EVERY_S,
        "connection_limit": MANY_PHONES,
        "max_request_body_size": LARGEST_REQUEST,
        "clear_untrusted_proxy_headers": True,
    }
    if settings.HTTPS:
        told |= {
            "trusted_proxy": settings.TRUSTED_PROXY,
            "trusted_proxy_headers": {"x-forwarded-proto", "x-forwarded-for"},
        }
    return told


def why_not_listening(trouble: OSError, host: str, port: int) -> str:
    if trouble.errno == errno.EADDRINUSE:
        other = port + 1 if port < 65535 else 8000
        return f"Port {port} is taken by another program. Choose another, such as --port {other}."
    if trouble.errno == errno.EACCES:
        return f"This account may not listen on port {port}. Choose one above 1023, such as --port 8000."
    return f"Cannot listen on {host}, port {port}: {trouble.strerror or trouble}."


def port_of(server) -> int:
    """The port it listens on, which the system chose if it was asked for port 0."""
    listens = getattr(server, "effective_listen", None)  # a name such as localhost may stand for two addresses
    return int(listens[0][1] if listens else server.effective_port)


def addresses(host: str, port: int) -> list[str]:
    """The addresses to type in, this computer's own first, then the one for a phone on the same network."""
    if host not in ("0.0.0.0", "::"):
        return [_address(host, port)]
    own = [_address("localhost", port)]
    lan = address_on_network()
    return [*own, _address(lan, port)] if lan else own


def _address(host: str, port: int) -> str:
    return f"http://[{host}]:{port}/" if ":" in host else f"http://{host}:{port}/"


def address_on_network() -> str:
    """This computer's address on the local network, or nothing."""
    # Connecting a UDP socket only chooses the way there, and sends nothing.
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("10.255.255.255", 9))
            own = probe.getsockname()[0]
        except OSError:
            return ""
    return "" if own.startswith("127.") else own


def log_to_file(folder: Path) -> None:
    """Keep what goes to the terminal in the data folder too, since nobody watches the terminal in a shed."""
    logs = folder / data_folder.LOGS
    logs.mkdir(mode=0o700, exist_ok=True)
    handler = logging.handlers.RotatingFileHandler(
        logs / "cotter.log", maxBytes=2_000_000, backupCount=4, encoding="utf-8", delay=True
    )
    handler.setFormatter(logging.Formatter("{asctime} {levelname} {name}: {message}", style="{"))
    logging.getLogger().addHandler(handler)


def run(server) -> None:
    """Serve until Ctrl-C or a request to terminate."""
    signal.signal(signal.SIGTERM, _leave)
    log.info("Serving.")
    nightly = Nightly()
    nightly.start()
    server.run()  # ends quietly on either, and lets the requests begun finish
    nightly.stop()
    server.close()
    log.info("Stopped.")


def _leave(signum, frame):
    raise SystemExit(0)
