"""What the pages of limit sheets show: a sheet with its rows, and the places that a row is about."""

from dataclasses import dataclass

from parts.domain.plain import listed
from parts.models import Locomotive, Position

from ..domain.attaching import is_about
from ..domain.own_sheets import LONGEST, SheetLine, Trouble, read_sheet
from ..models import Dimension, Fit, Limits, LimitSheet, SheetRow

MOST_PLACES = 300
TEMPLATE_HEADS = tuple(LONGEST)


@dataclass(frozen=True, kw_only=True)
class OfferedPlaces:
    """Places for a row: those that it is about by their names come first and are ticked."""

    places: list[Position]
    about: list[Position]
    has: dict[int, str]  # by place: what its size of that name is judged by now
    left_out: int

    def told(self, place: Position) -> str:
        now = self.has.get(place.pk)
        return f"{place.words}, now judged by {now}" if now else place.words

    @property
    def ticked(self) -> list[str]:
        """Proposed are those that have no limits of that name yet."""
        return [str(place.pk) for place in self.about if place.pk not in self.has]


def offered(row: SheetRow, locomotive: Locomotive | None, words: str, name: str) -> OfferedPlaces:
    if locomotive is None:
        return OfferedPlaces(places=[], about=[], has={}, left_out=0)
    there = list(locomotive.positions.in_use().in_words_order())
    about = [place for place in there if is_about(row.applies_to, place.name, place.words)]
    more = list(locomotive.positions.with_words(words).in_words_order()) if words else []
    known = {place.pk for place in about}
    places = about + [place for place in more if place.pk not in known]
    return OfferedPlaces(
        places=places[:MOST_PLACES],
        about=about[:MOST_PLACES],
        has=_judged_by(places[:MOST_PLACES], name),
        left_out=max(0, len(places) - MOST_PLACES),
    )


def _judged_by(places: list[Position], name: str) -> dict[int, str]:
    sizes = list(Dimension.objects.called(name, places).with_limits())
    newest = Limits.objects.in_bulk([size.limits_id for size in sizes if size.limits_id])
    return {size.position_id: str(newest[size.limits_id]) for size in sizes if size.limits_id}


def fits_of(locomotive: Locomotive | None) -> list[Fit]:
    return list(Fit.objects.of_locomotive(locomotive)) if locomotive else []


def used_by(sheet: LimitSheet) -> dict[int, int]:
    """By row, how many places are judged by it today."""
    newest = Dimension.objects.in_use().with_limits().values("limits_id")
    rows = Limits.objects.judged_by(sheet, newest).values_list("row", flat=True)
    counted: dict[int, int] = {}
    for row in rows:
        counted[row] = counted.get(row, 0) + 1
    return counted


# --- a railway's own sheet


def look_over(content: bytes) -> tuple[list[dict], list[SheetRow], list[Trouble]]:
    """The rows as they would be stored, the same to look at, or what keeps the sheet out."""
    lines, troubles = read_sheet(content)
    rows, more = [], []
    for sheet_line in lines:
        fields = row_fields(sheet_line)
        if len(fields["note"]) > LONGEST["note"]:
            sentence = f"Note and source have {len(fields['note'])} characters together."
            more.append(Trouble(sheet_line.number, "note", sentence, f"Shorten them to {LONGEST['note']}."))
        rows.append(fields)
    if found := [*troubles, *more]:
        return [], [], found
    return rows, [SheetRow(number=number, **row) for number, row in enumerate(rows, 1)], []


def row_fields(sheet_line: SheetLine) -> dict:
    """As SheetRow has them. A source of a row's own stands in its note beside the clause."""
    kept = (
        "applies_to", "item", "letter", "unit", "wears", "drawing", "new_lower", "new_upper", "shop_lower",
        "shop_upper", "scrapping_lower", "scrapping_upper", "shop_open", "scrapping_open", "clause",
    )  # fmt: skip
    notes = listed(filter(None, (sheet_line.note, sheet_line.source)))
    return {name: getattr(sheet_line, name) for name in kept} | {"note": notes}
