"""From the register to printed labels: which pieces and crates, what stands on each, at which address."""

import re
from collections.abc import Iterable
from ipaddress import ip_address
from urllib.parse import urlsplit

from django.conf import settings

from .actions import tagging, writing
from .domain.plain import listed
from .domain.tagcodes import TagError, check, grouped, printed_address
from .domain.written_codes import codes_written
from .labels import CrateLabel, LabelError, PartLabel, parse_sheet, render
from .models import Component, Location, Tag

MOST_LABELS = 2000
NAMED_IN_A_CRATE = 60
MOST_COMPLAINTS = 5


class PrintError(LabelError):
    """Nothing can be printed; the sentence says why and what to do."""


def address(given: str = "") -> str:
    """The address that tags are printed with. It lasts as long as the tags, so it is a setting and never guessed."""
    base = (given or settings.ADDRESS).strip().rstrip("/")
    if not base:
        raise PrintError(
            "No address to print: set COTTER_ADDRESS to the one that phones reach Cotter at, such as "
            "http://cotter.local:8000, and keep to it. Tags are expensive to print again."
        )
    if not _is_plain_address(base):
        raise PrintError(
            f"“{base[:80]}” is no address to print: write http:// or https://, the name of the server and its port, "
            "and nothing behind it, such as http://cotter.local:8000."
        )
    return base


def _is_plain_address(base: str) -> bool:
    try:
        said = urlsplit(base)
        said.port  # noqa: B018 asked only to see whether it is a number
    except ValueError:
        return False
    bare = not (said.path or said.query or said.fragment or said.username)
    return said.scheme in ("http", "https") and bool(said.hostname) and bare and not re.search(r"\s", base)


def tags_of(text: str) -> list[Tag]:
    """The tags of the codes in a text, in its order, each once. Every one that is wrong is named."""
    words, wrong, codes = codes_written(text), [], []
    _not_too_many(max(1, len(words)))
    for word in words:
        try:
            codes.append(check(word))
        except TagError as trouble:
            wrong.append(str(trouble))
    there = {tag.code: tag for tag in Tag.objects.filter(code__in=codes)}
    wrong += [f"{grouped(code)}: no such tag was ever issued here." for code in codes if code not in there]
    if wrong:
        more = len(wrong) - MOST_COMPLAINTS
        raise PrintError(" ".join(wrong[:MOST_COMPLAINTS]) + (f" And {more} more." if more > 0 else ""))
    return [there[code] for code in dict.fromkeys(codes)]


def labels_for_tags(tags: list[Tag], base: str) -> list[PartLabel | CrateLabel]:
    """A part tag for each piece or unused tag, a crate label for each location, in the order given."""
    pieces = {c.pk: c for c in Component.objects.for_labels([t.component_id for t in tags if t.component_id])}
    places = Location.objects.in_bulk([tag.location_id for tag in tags if tag.location_id])
    contents = _contents(list(places))
    made = []
    for tag in tags:
        if tag.location_id:
            made.append(_crate_label(tag, places[tag.location_id], contents, base))
        else:
            made.append(part_label(tag.code, pieces.get(tag.component_id), base))
    return made


def part_label(code: str, piece: Component | None, base: str) -> PartLabel:
    """What a part tag says; an unused one says its code alone."""
    if piece is None:
        return PartLabel(code=code, address=printed_address(base, code))
    place = piece.place
    title = piece.name if piece.quantity == 1 else f"{piece.name} × {piece.quantity}"
    lines = [line for line in (piece.locomotive and piece.locomotive.name, piece.works_number) if line]
    return PartLabel(
        code=code,
        address=printed_address(base, code),
        title=title,
        lines=lines,
        side_line=side_line(place) if place else "",
    )


def side_line(place) -> str:
    """Side and direction, large: 'RH LEADING ▲ FRONT'."""
    end = f"▲ {place.end.upper()}" if place.end.lower() == "front" else place.end.upper()
    return " ".join(word for word in (place.side, place.axle.upper(), end) if word)


def _crate_label(tag, place, contents, base):
    inside = contents.get(place.pk, [])
    return CrateLabel(
        code=tag.code,
        address=printed_address(base, tag.code),
        title=place.name,
        contents=inside[:NAMED_IN_A_CRATE],
        more=max(len(inside) - NAMED_IN_A_CRATE, 0),
    )


def _contents(location_ids) -> dict[int, list[str]]:
    """What a crate label lists: the places inside it, then the pieces that lie right there."""
    found: dict[int, list[str]] = {}
    if not location_ids:
        return found
    for place in Location.objects.standing_in(location_ids):
        found.setdefault(place.parent_id, []).append(place.name)
    for piece in Component.objects.in_crates(location_ids):
        words = piece.name if piece.quantity == 1 else f"{piece.name} × {piece.quantity}"
        found.setdefault(piece.location_id, []).append(f"{piece.code or ''} {words}".strip())
    return found


def print_unused(count: int, sheet: str, base: str, actor) -> bytes:
    """A roll of tags tied to nothing yet. They are issued by this, and only if the sheet can be printed."""
    _not_too_many(count)
    with writing.one_transaction():
        return print_tags(tagging.unused(count), sheet, base, actor)


def print_crates(places: Iterable[Location], sheet: str, base: str, actor) -> bytes:
    """Labels of crates, racks and shelves; one that bears no tag yet is given its first."""
    places = list(places)
    _not_too_many(max(1, len(places)))
    with writing.one_transaction():
        return print_tags(tagging.tags_of_locations(places, actor), sheet, base, actor)


def print_tags(tags: list[Tag], sheet: str, base: str, actor) -> bytes:
    """Labels of these tags; that they were printed is remembered, so that they can be printed again."""
    if not tags:
        raise PrintError("Nothing to print: nothing that was chosen bears a tag.")
    _not_too_many(len(tags))
    pdf = render(labels_for_tags(tags, base), parse_sheet(sheet))
    codes = [tag.code for tag in tags]
    writing.log(actor, "print labels", data={"tags": codes}, remark=listed(grouped(code) for code in codes[:12]))
    return pdf


def _not_too_many(count: int) -> None:
    if not 1 <= count <= MOST_LABELS:
        raise PrintError(f"{count} labels are not printed at once: ask for 1 to {MOST_LABELS}.")


def shaky(base: str) -> str:
    """A warning where an address will not last as long as the tags; empty if it is a name that stays."""
    host = urlsplit(base if "//" in base else f"//{base}").hostname or ""
    if host in ("localhost", "127.0.0.1", "::1"):
        return (
            "That address means each phone itself: no phone can open it. Give the server a name on the shed's network."
        )
    try:
        ip_address(host)
    except ValueError:
        return ""
    return (
        "That is a bare number, which a router may give to another computer one day. A name such as cotter.local lasts."
    )
