"""From the register to what stands on labels: which words of a piece, a crate or a shelf, on a label of each kind."""

from enum import StrEnum

from ..domain.tagcodes import grouped, printed_address
from ..models import Component, Location, Pattern, Tag
from .kinds import BagLabel, CrateLabel, Label, PartLabel, ShelfLabel

NAMED_IN_A_CRATE = 60


class LabelKind(StrEnum):
    PIECES = "pieces"
    BAGS = "bags"
    CRATES = "crates"
    SHELVES = "shelves"
    UNUSED = "unused"


def labels_for(tags: list[Tag], base: str, kind: str, inside: dict[int, list[str]], most: int | None) -> list[Label]:
    """One label for each tag, in the order given. What a tag hangs on decides between a piece's and a place's label;
    the kind, which of the two sorts that each of them has. `inside` is what is listed of each crate, `most` of it."""
    pieces = _pieces([tag.component_id for tag in tags if tag.component_id])
    patterns = Pattern.objects.for_labels([tag.pattern_id for tag in tags])
    places = Location.objects.for_labels([tag.location_id for tag in tags if tag.location_id])
    made: list[Label] = []
    for tag in tags:
        address = printed_address(base, tag.code)
        if tag.location_id and kind == LabelKind.SHELVES:
            made.append(shelf_label(tag.code, address, places[tag.location_id]))
        elif tag.location_id:
            made.append(crate_label(tag.code, address, places[tag.location_id], inside.get(tag.location_id, []), most))
        elif kind == LabelKind.BAGS and tag.component_id:
            made.append(bag_label(tag.code, address, pieces[tag.component_id]))
        elif tag.pattern_id:
            made.append(pattern_label(tag.code, address, patterns[tag.pattern_id]))
        else:
            made.append(part_label(tag.code, address, pieces.get(tag.component_id or 0)))
    return made


def _pieces(ids: list[int]) -> dict[int, Component]:
    found = Component.objects.for_labels(ids).select_related("place__subassembly", "came_off__subassembly")
    return {piece.pk: piece for piece in found} if ids else {}


def part_label(code: str, address: str, piece: Component | None) -> PartLabel:
    """What a part tag says; an unused one says its code alone."""
    if piece is None:
        return PartLabel(code=code, address=address)
    return PartLabel(
        code=code,
        address=address,
        title=named(piece),
        lines=_said(piece.locomotive and piece.locomotive.name, piece.way_round, piece.works_number),
        side_line=side_line(piece),
    )


def pattern_label(code: str, address: str, pattern: Pattern) -> PartLabel:
    """A pattern, core box or jig, with the drawing it was made to."""
    return PartLabel(code=code, address=address, title=str(pattern), lines=_said(pattern.drawing, pattern.marks))


def bag_label(code: str, address: str, piece: Component) -> BagLabel:
    """What is in the bag, how many, and from which place: where it came off, or else the place it is kept for."""
    place = piece.came_off or piece.place
    return BagLabel(
        code=code,
        address=address,
        title=piece.name,
        count=piece.quantity,
        side_line=side_line(piece),
        lines=_said(
            place and f"From: {place.words}",
            place and place.subassembly.name,
            piece.locomotive and piece.locomotive.name,
            piece.works_number,
        ),
    )


def named(piece: Component) -> str:
    return piece.name if piece.quantity == 1 else f"{piece.name} × {piece.quantity}"


def side_line(piece: Component) -> str:
    """Side and direction, large: 'RH LEADING ▲ FRONT'; where no place says it, the piece's own side."""
    place = piece.place
    if place is None:
        return piece.side
    return " ".join(
        word for word in (place.side or piece.side, place.axle.upper(), place.inside.upper(), _end(place)) if word
    )


def _end(place) -> str:
    """With the arrow that points to the front up, as on a drawing seen from above: what is at the rear points down."""
    arrow = {"front": "▲ ", "rear": "▼ "}.get(place.end.lower(), "")
    return f"{arrow}{place.end.upper()}"


def crate_label(code: str, address: str, place: Location, inside: list[str], most: int | None) -> CrateLabel:
    named = inside[:most]
    return CrateLabel(code=code, address=address, title=place.name, contents=named, more=len(inside) - len(named))


def shelf_label(code: str, address: str, place: Location) -> ShelfLabel:
    return ShelfLabel(code=code, address=address, title=place.name, inside=place.parent.path if place.parent else "")


def listed_inside(tags: list[Tag], kind: str) -> dict[int, list[str]]:
    """What the labels of these tags list of each place, where they list anything."""
    return {} if kind == LabelKind.SHELVES else contents([tag.location_id for tag in tags if tag.location_id])


def contents(location_ids: list[int]) -> dict[int, list[str]]:
    """What a crate label lists: the places inside it, then the pieces and the patterns that lie right there."""
    found: dict[int, list[str]] = {place: [] for place in location_ids}
    if not location_ids:
        return found
    for place in Location.objects.standing_in(location_ids):
        found[place.parent_id].append(place.name)
    for piece in Component.objects.in_crates(location_ids).select_related("place"):
        found[piece.location_id].append(_line(piece.code, named(piece), side_line(piece)))
    for pattern in Pattern.objects.in_use().with_codes().filter(location__in=location_ids).order_by("name", "id"):
        found[pattern.location_id].append(_line(pattern.code, str(pattern)))
    return found


def _line(code: str | None, *words: str) -> str:
    return " ".join(_said(code and grouped(code), *words))


def _said(*words) -> list[str]:
    return [word for word in words if word]
