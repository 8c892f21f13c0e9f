"""From the register to printed labels: which pieces and crates, what stands on each, at which address."""

from ipaddress import ip_address
from urllib.parse import urlsplit

from django.conf import settings

from .actions import tagging, writing
from .domain.plain import listed
from .domain.tagcodes import TagError, check, printed_address
from .labels import CrateLabel, LabelError, PartLabel, parse_sheet, render
from .models import Component, Location, Tag

MOST_LABELS = 2000
NAMED_IN_A_CRATE = 60


class PrintError(LabelError):
    """Nothing can be printed; the sentence says why and what to do."""


def address() -> str:
    """The address that tags are printed with. It lasts as long as the tags, so it is a setting and never guessed."""
    if not settings.ADDRESS:
        raise PrintError(
            "No address to print: set COTTER_ADDRESS to the one that phones reach Cotter at, such as "
            "http://cotter.local:8000, and keep to it. Tags are expensive to print again."
        )
    return settings.ADDRESS


def tags_of(text: str) -> list[Tag]:
    """The tags of the codes in a text, in its order. Every one that is wrong is named."""
    wrong, codes = [], []
    for word in text.replace(",", " ").split():
        try:
            codes.append(check(word))
        except TagError as trouble:
            wrong.append(f"{word}: {trouble}")
    there = {tag.code: tag for tag in Tag.objects.filter(code__in=codes)}
    wrong += [f"{code}: no such tag was ever issued here." for code in codes if code not in there]
    if wrong:
        raise PrintError(" ".join(wrong))
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
    found: dict[int, list[str]] = {}
    for piece in Component.objects.in_crates(location_ids):
        words = piece.name if piece.quantity == 1 else f"{piece.name} × {piece.quantity}"
        found.setdefault(piece.location_id, []).append(f"{piece.code or ''} {words}".strip())
    return found


def print_unused(count: int, sheet: str, base: str, actor) -> bytes:
    """A roll of tags tied to nothing yet. They are issued by this, and only if the sheet can be printed."""
    _not_too_many(count)
    parsed = parse_sheet(sheet)
    with writing.one_transaction():
        tags = tagging.unused(count)
        writing.log(actor, "print labels", data={"unused": len(tags)})
        return render([part_label(tag.code, None, base) for tag in tags], parsed)


def print_tags(tags: list[Tag], sheet: str, base: str, actor) -> bytes:
    """Labels of these tags; that they were printed is remembered."""
    if not tags:
        raise PrintError("Nothing to print: no tag was chosen.")
    _not_too_many(len(tags))
    pdf = render(labels_for_tags(tags, base), parse_sheet(sheet))
    writing.log(
        actor, "print labels", data={"tags": [tag.code for tag in tags]}, remark=listed(t.code for t in tags[:12])
    )
    return pdf


def _not_too_many(count: int) -> None:
    if not 1 <= count <= MOST_LABELS:
        raise PrintError(f"{count} labels: print from 1 to {MOST_LABELS} at a time.")


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
