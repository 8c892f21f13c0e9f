"""The address that is printed on tags. It has to last as long as they do, so it is looked at before paper is used."""

import re
from ipaddress import ip_address
from urllib.parse import SplitResult, urlsplit

EXAMPLE = "http://cotter.local:8000"
LOCAL = ".local"  # RFC 6762: names that computers of one network find without a server of names


def fault(base: str) -> str:
    """Why this is no address that a phone could open; empty if it is one."""
    shown = f"“{base[:80]}”"
    if not base:
        return (
            "No address to print: set COTTER_ADDRESS to the one that phones reach Cotter at, such as "
            f"{EXAMPLE}, and keep to it. Tags are expensive to print again."
        )
    parts = _split(base)
    if "://" not in base or parts is None or parts.scheme not in ("http", "https") or not parts.hostname:
        what = "http:// or https:// belongs before the name of the server"
    elif re.search(r"\s", base):
        what = "there is a blank in it"
    elif parts.username:
        what = "a name and a password for signing in do not belong in it"
    elif parts.path or parts.query or parts.fragment:
        what = f"nothing belongs behind the name and its port, so leave out “{base[len(_root(parts)) :][:40]}”"
    else:
        return ""
    return f"{shown} is no address to print: {what}. Write it such as {EXAMPLE}."


def doubts(base: str) -> list[str]:
    """Why a good address may not last, or may not be opened by every phone; each with what would mend it."""
    parts = _split(base)
    host = (parts.hostname or "") if parts else ""
    try:
        number = ip_address(host)
    except ValueError:
        return [doubt for doubt in _of_a_name(host, parts.scheme if parts else "") if doubt]
    if number.is_loopback or number.is_unspecified:
        return [_MEANS_ITSELF]
    if number.is_link_local:
        return [
            f"{host} is a number that the computer gave itself because no router gave it one. It is another one next "
            "time: connect it to the shed's network first."
        ]
    return [
        f"{host} is a bare number, which a router may give to another computer one day; then every tag leads there. "
        "A name such as cotter.local lasts; or reserve the number for this computer in the router."
    ]


_MEANS_ITSELF = (
    "That address means each phone itself: no phone can open it. Give the server a name on the shed's network, such as "
    "cotter.local."
)


def _of_a_name(host: str, scheme: str) -> list[str]:
    if host == "localhost" or host.endswith(".localhost"):  # RFC 6761
        return [_MEANS_ITSELF]
    bare = "." not in host
    return [
        f"“{host}” has no dot in it, and many phones take such a word for something to search for. Write "
        f"{host}.local if that is the computer's own name, or the whole name that the router knows it by."
        if bare
        else "",
        f"Nobody outside gives out certificates for a bare name or one ending in {LOCAL}: with https, phones warn "
        "unless each was told to trust an authority of your own."
        if scheme == "https" and (bare or host.endswith(LOCAL))
        else "",
    ]


def host_of(base: str) -> str:
    parts = _split(base)
    return (parts.hostname or "") if parts else ""


def _split(base: str) -> SplitResult | None:
    try:
        parts = urlsplit(base)
        parts.port  # noqa: B018 asked only to see whether it is a number
    except ValueError:
        return None
    return parts


def _root(parts: SplitResult) -> str:
    return f"{parts.scheme}://{parts.netloc}"
