"""Walking the chain: what of it does not hold, and whether what is printed on a paper stands in it."""

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Any

from ..models import Event, EventSubject, Head, Link, SignedText
from . import chain
from .chain import SignedKind, digest, signed_kinds

A_BATCH = 500
TOLD = 20
"""So many of one sort are named; a register tampered with at will would say little else."""


@dataclass(frozen=True)
class Wrong:
    """One thing that does not hold. `kind` and `number` name what was signed, where it is that."""

    sentence: str
    kind: str = ""
    number: int | None = None


@dataclass
class Walked:
    links: int = 0
    signed: int = 0


def walk(walked: Walked) -> Iterator[Wrong]:
    """Everything in the chain that does not hold, from the first link to the head, then what stands in no link."""
    before, seen, lineage = None, set(), ""
    links = Link.objects.prefetch_related("signed").order_by("number").iterator(chunk_size=A_BATCH)
    for batch in _by(A_BATCH, ((link, _read(link)) for link in links)):
        logged = _events_of(content for _, content in batch)
        for link, content in batch:
            walked.links += 1
            yield from _joins(link, content, before, lineage)
            if content:
                lineage = content["lineage"]
                yield from _texts(link, content)
                yield from _events(link, content, logged)
                seen |= {number for number, _ in content["events"]}
            before = link
    yield from _head(before)
    yield from _unlinked(seen)
    yield from _rows(walked)


def _read(link: Link) -> dict[str, Any]:
    try:
        content = json.loads(link.text)
        return content if {"before", "events", "lineage", "number", "signed"} <= set(content) else {}
    except ValueError:
        return {}


def _joins(link: Link, content: dict[str, Any], before: Link | None, lineage: str) -> Iterator[Wrong]:
    expected = before.number + 1 if before else 1
    if link.number != expected:
        yield Wrong(f"Link {expected} is gone: link {link.number} follows the one before.")
    if not content or digest(link.text) != link.digest or content["number"] != link.number:
        yield Wrong(f"Link {link.number} does not say what was written: it was changed afterwards.")
    elif link.number == expected and content["before"] != (before.digest if before else ""):
        yield Wrong(f"Link {link.number} does not follow from the one before: one of the two was made again.")
    if content and lineage and content["lineage"] != lineage and "restored" not in content:
        yield Wrong(f"Link {link.number} begins another lineage without a backup having been restored.")


def _texts(link: Link, content: dict[str, Any]) -> Iterator[Wrong]:
    there = {(one.kind, one.number): digest(one.text) for one in link.signed.all()}
    signed = {(kind, number): its for kind, number, its in content["signed"]}
    for (kind, number), its in signed.items():
        if there.get((kind, number)) != its:
            yield Wrong(f"{named(kind, number)}: the text that was signed was changed or taken out.", kind, number)
    for kind, number in there.keys() - signed.keys():
        yield Wrong(f"{named(kind, number)}: its text stands in link {link.number}, which does not name it.")


def _events_of(contents: Iterable[dict[str, Any]]) -> dict[int, str]:
    """The digest of each event that these links name, as it is now."""
    wanted = [number for content in contents for number, _ in content.get("events", ())]
    found = {}
    for some in _by(A_BATCH, wanted):
        about: dict[int, list] = {}
        for pk, kind, number in EventSubject.objects.filter(event__in=some).values_list("event", "kind", "number"):
            about.setdefault(pk, []).append((kind, number))
        for event in Event.objects.filter(pk__in=some):
            found[event.pk] = chain.event_digest(event, about.get(event.pk, ()))
    return found


def _events(link: Link, content: dict[str, Any], logged: dict[int, str]) -> Iterator[Wrong]:
    for number, its in content["events"]:
        if logged.get(number) != its:
            what = "says something else than was logged" if number in logged else "was logged, and is gone"
            yield Wrong(f"Event {number} of link {link.number} {what}.")


def _head(last: Link | None) -> Iterator[Wrong]:
    head = Head.objects.filter(pk=chain.ONE).first()
    number, its = (last.number, last.digest) if last else (0, "")
    if head and (head.number, head.digest) != (number, its):
        yield Wrong(f"The head stands on link {head.number}, and the last link is {number}: links were taken out.")


def _unlinked(seen: set[int]) -> Iterator[Wrong]:
    """Events that no link names were written past Cotter."""
    unnamed = (n for n in Event.objects.order_by("id").values_list("id", flat=True).iterator() if n not in seen)
    for number in islice(unnamed, TOLD):
        yield Wrong(f"Event {number} stands in no link: it was not written by Cotter.")


def _rows(walked: Walked) -> Iterator[Wrong]:
    """Whether the rows of each thing still say what was signed, and whether all that counts as signed was."""
    for kind in signed_kinds().values():
        texts = SignedText.objects.filter(kind=kind.kind)
        for some in _by(A_BATCH, texts.order_by("number").iterator(chunk_size=A_BATCH)):
            rows = {row.pk: row for row in kind.read(one.number for one in some)}
            for one in some:
                walked.signed += 1
                if wrong := _row(kind, one, rows.get(one.number)):
                    yield Wrong(f"{named(kind.kind, one.number)}: {wrong}", kind.kind, one.number)
        for number in kind.rows().exclude(pk__in=texts.values("number")).values_list("pk", flat=True)[:TOLD]:
            yield Wrong(f"{named(kind.kind, number)}: it stands in no link, so it was not signed in Cotter.",
                        kind.kind, number)  # fmt: skip


def _row(kind: SignedKind, one: SignedText, row: Any) -> str:
    if row is None:
        return "it was signed, and is gone."
    try:
        same = kind.still_says(row, json.loads(one.text))
    except (TypeError, ValueError, AttributeError, KeyError) as error:
        return f"it cannot be read as it stands ({error})."
    return "" if same else "it does not say what was signed: it was changed afterwards."


def _by(size: int, things: Iterable[Any]) -> Iterator[list[Any]]:
    every = iter(things)
    while some := list(islice(every, size)):
        yield some


def named(kind: str, number: int) -> str:
    return f"{kind.capitalize()} {number}"


PAPER = re.compile(r"([0-9A-Z]{6})-([0-9A-Z]{4})\D+?(\d+)\b.*?((?:[0-9a-f]{4}\s*){5})\s*$", re.DOTALL)
EXAMPLE = "7K3M9Q-4TXH 1234 0123456789abcdef0123"


class NotRead(ValueError):
    """What was typed from a paper cannot be read; the message says how to write it."""


def against(paper: str) -> tuple[bool, str]:
    """Whether what a paper says of the chain (register, number, digits) stands in it, and the sentence to tell."""
    read = PAPER.search(" ".join(paper.split()))
    if not read:
        raise NotRead(f"Write register, link and the 20 digits as the paper has them, such as {EXAMPLE}.")
    register, lineage, number, digits = read[1], read[2], int(read[3]), "".join(read[4].split())
    head = chain.seal()
    if register != head.register.partition("-")[0]:
        return False, f"The paper is of another register: this one is {head.register}."
    ended = _where_ended(lineage, head)
    if ended is None:
        return False, "The paper is of another copy of this register, which went its own way since."
    link = Link.objects.filter(number=number).first()
    if ended and number >= ended:
        return True, (
            f"The paper was printed after the backup was made that was restored in link {ended}. What it stands on was "
            f"set aside then, so this register cannot say more of it. That is no sign of a forgery."
        )
    if link is None:
        return False, f"This register has {head.number} links, and the paper stands on link {number}: links were lost."
    if link.digest[: chain.DIGITS] != digits:
        return False, f"Link {number} is not the one on the paper: the past was rewritten since it was printed."
    return True, f"Link {number} stands as it is on the paper."


def _where_ended(lineage: str, head: chain.Seal) -> int | None:
    """The link that ended a lineage, 0 for the one that goes on; None if it was never one of this register."""
    if head.register.endswith(f"-{lineage}"):
        return 0
    known = False
    for text, number in Link.objects.order_by("number").values_list("text", "number").iterator():
        its = json.loads(text)["lineage"]
        if its == lineage:
            known = True
        elif known:
            return number
    return None
