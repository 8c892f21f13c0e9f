"""The picture of a first sheet: what the page says beside it, and the address that it is fetched from."""

from django.http import QueryDict
from django.urls import reverse

from parts.domain.plain import several
from parts.models import Location

from .. import printing
from ..label_texts import LabelKind
from ..picture import size

LETTER_TO_DISTANCE = 200  # a letter 10 mm tall is read from 2 m: common practice, no source
SHELF_READ_FROM_M = 2.0


def kind_of(word: str | None) -> LabelKind:
    return LabelKind(word) if word in list(LabelKind) else LabelKind.PIECES


def shown(seen: printing.Preview) -> dict:
    width, height = size(seen.page)
    return {
        "src": _address(seen),
        "width": width,
        "height": height,
        "cells": _cells(seen),
        "count": several(seen.count, "label"),
        "sheets": "" if _single(seen) else several(seen.sheets, "sheet"),
        "lacks": lacks(seen.unprintable) if seen.unprintable else "",
        "reads": _reads(seen) if seen.batch.kind == LabelKind.SHELVES else "",
        "noughts": any(label.code == printing.NOT_YET_ISSUED for label in seen.labels),
    }


def lacks(letters: str) -> str:
    return f"The letters of the labels lack {letters}: the sign � is printed there. Write it in other letters."


def _single(seen: printing.Preview) -> bool:
    return seen.sheet.cells_on_a_page == 1


def _reads(seen: printing.Preview) -> str:
    """From how far the smallest name on the sheet is read."""
    tall = seen.name_mm
    metres = tall * LETTER_TO_DISTANCE / 1000
    sentence = f"The smallest letters of a name come out {tall:.0f} mm tall: read from about {metres:.1f} m."
    return (
        sentence
        if metres >= SHELF_READ_FROM_M
        else f"{sentence} A larger label, or a shorter name, is read from further."
    )


def _cells(seen: printing.Preview) -> str:
    """Where the cells lie, in parts of a thousand from the top left, so that one can be pressed to start at it."""
    if _single(seen):
        return ""
    page = seen.page
    return ";".join(
        ",".join(
            str(round(1000 * part))
            for part in (
                cell.x / page.width,
                (page.height - cell.top) / page.height,
                (cell.x + cell.width) / page.width,
                (page.height - cell.y) / page.height,
            )
        )
        for cell in page.cells
    )


def _address(seen: printing.Preview) -> str:
    """Only what is on the first sheet is named in it, so that it stays short however much is printed."""
    batch, most = seen.batch, seen.sheet.cells_on_a_page
    asked = QueryDict(mutable=True)
    asked.update({"what": batch.kind, "sheet": batch.sheet})
    if batch.tags:
        asked["tags"] = " ".join(tag.code for tag in batch.tags[:most])
    if batch.places:
        asked["places"] = " ".join(str(place.pk) for place in batch.places[:most])
    if batch.unused is not None:
        asked["unused"] = str(min(batch.unused, most))
    if batch.whole:
        asked["whole"] = "on"
    return f"{reverse('labels_picture')}?{asked.urlencode()}"


def asked(entered) -> printing.Batch:
    """What a picture was asked of. Whatever is no number or no tag is refused, as everywhere."""
    words = entered.get("places", "").split()[: printing.MOST_LABELS]
    numbers = [int(word) for word in words if word.isdecimal() and len(word) < 10]
    there = Location.objects.for_labels(numbers)
    count = entered.get("unused", "")
    tags = entered.get("tags", "").replace("\x00", "")
    return printing.Batch(
        kind=kind_of(entered.get("what")),
        sheet=entered.get("sheet", "")[:200],
        tags=printing.tags_of(tags) if tags.strip() else [],
        places=[there[number] for number in numbers if number in there],
        unused=int(count) if count.isdecimal() and len(count) < 6 else None,
        whole="whole" in entered,
    )
