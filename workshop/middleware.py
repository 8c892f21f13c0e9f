"""Small things done to every request."""

import errno
import ipaddress
import logging
import socket

from django.conf import settings
from django.core.exceptions import DisallowedHost
from django.db import OperationalError
from django.http import HttpResponse
from django.middleware.gzip import GZipMiddleware
from django.shortcuts import render
from django.utils.cache import patch_vary_headers

from core.access import to_sign_in
from core.disk import disk_space

log = logging.getLogger(__name__)


def answer_to_own_names_only(get_response):
    """Refuse a request that was sent to a name which is not ours.

    A page on the internet can give its own name our address (DNS rebinding) and would then be, to the visitor's
    browser, the same site as ours. It cannot do so with a bare address, nor with a name of the local network only.
    """

    def middleware(request):
        try:
            name = _without_port(request.get_host())
        except DisallowedHost:
            name = ""
        if not is_own_name(name):
            return HttpResponse(
                "Cotter does not answer to this name. If it should, add the name to COTTER_HOSTS and start again.\n",
                status=400,
                content_type="text/plain; charset=utf-8",
            )
        return get_response(request)

    return middleware


def _without_port(host: str) -> str:
    if host.startswith("["):
        return host[1:].split("]")[0]
    return host.split(":")[0]


def is_own_name(name: str) -> bool:
    """Is it a bare address, this machine's name, a name for the local network only, or one from COTTER_HOSTS?"""
    name = name.lower().rstrip(".")
    if name in settings.HOSTS:
        return True
    try:
        ipaddress.ip_address(name)
    except ValueError:
        own = socket.gethostname().lower()
        return name in ("localhost", own, own.split(".")[0]) or name.endswith((".local", ".localhost"))
    return True


def ask_for_nothing_but_the_camera(get_response):
    """Pages here use the camera, and neither they nor anything in them may ask for more."""

    def middleware(request):
        response = get_response(request)
        response.headers.setdefault(
            "Permissions-Policy", "camera=(self), geolocation=(), microphone=(), payment=(), usb=()"
        )
        return response

    return middleware


def refuse_too_much_at_once(get_response):
    """Say what to do about an upload that is too large, before anything of it is read; of a stranger's nothing was kept
    (serving/strangers.py)."""

    def middleware(request):
        if "HTTP_COTTER_DROPPED" in request.META:
            return to_sign_in(request)
        size = request.META.get("CONTENT_LENGTH") or "0"
        if size.isdecimal() and int(size) > settings.LARGEST_UPLOAD:
            most = f"{settings.LARGEST_UPLOAD / 1024**2:.0f}"
            return render(request, "too_much.html", {"most": most}, status=413)
        return get_response(request)

    return middleware


def send_pages_small(get_response):
    """Compress pages, for a phone at the far end of the yard. Pictures and PDFs are as small as they get.

    Compressing a page with a secret in it can give the secret away (BREACH); Django masks its form tokens against that.
    """
    compressor = GZipMiddleware(get_response)

    def middleware(request):
        response = get_response(request)
        if is_page(response):
            return compressor.process_response(request, response)
        return response

    return middleware


def tell_fragments_from_pages(get_response):
    """One address gives a page or, to htmx, a fragment of it: a cache must not mix them up."""

    def middleware(request):
        response = get_response(request)
        if is_page(response) or response.status_code == 304:
            patch_vary_headers(response, ["HX-Request"])
        return response

    return middleware


def say_whose_it_is(get_response):
    """What one person has seen is never kept for another by a phone (static/js/sw.js): each page says whose it is."""

    def middleware(request):
        response = get_response(request)
        if is_page(response) and request.user.is_authenticated:
            response.headers["X-Cotter-Whose"] = str(request.user.pk)
        return response

    return middleware


def is_page(response) -> bool:
    return response.headers.get("Content-Type", "").startswith("text/html")


def own_up_to_trouble_with_the_disk(get_response):
    """A full disk or a locked database is nobody's mistake at the screen: say so, and that nothing was kept."""

    def middleware(request):
        return get_response(request)

    def process_exception(request, exception):
        trouble = trouble_with_the_disk(exception)
        if not trouble:
            return None
        log.error("%s: %s", request.path, exception)
        return render(request, "trouble.html", {"trouble": trouble}, status=503)

    middleware.process_exception = process_exception  # type: ignore[attr-defined]  # Django looks for it there
    return middleware


DISK_FAILS = (
    "Nothing of yours was saved: the disk of the computer that keeps the register does not write. Tell whoever looks "
    "after it at once, and make a copy of the register onto another disk."
)


def trouble_with_the_disk(exception: BaseException) -> str:
    """What to tell the person, or nothing if the exception is of another kind."""
    if isinstance(exception, OSError) and exception.errno in (errno.ENOSPC, errno.EDQUOT):
        return disk_space.DISK_FULL
    if isinstance(exception, OSError) and exception.errno == errno.EIO:
        return DISK_FAILS
    if isinstance(exception, OperationalError):
        text = str(exception).lower()
        if "disk is full" in text or "no space left" in text:
            return disk_space.DISK_FULL
        if "locked" in text or "deadlock" in text or "lock timeout" in text:
            return "Too much is being written at once, so this had to wait too long."
        if "readonly" in text or "unable to open" in text or "disk i/o" in text:
            return "The computer that serves Cotter cannot write its database."
    return ""
