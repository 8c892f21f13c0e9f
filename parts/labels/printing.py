"""Printing labels: of which tags, at which address, as a PDF or first as a picture; and what was printed before."""

from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from typing import Any

from django.conf import settings
from django.utils.timezone import localtime

from core.models import Event

from ..actions import writing
from ..actions.tags import unused
from ..domain import addresses
from ..domain.plain import day, listed
from ..domain.tagcodes import TagError, check, grouped
from ..domain.written_codes import codes_written
from ..models import Location, Tag
from ..tags import writers as tagging
from .errors import LabelError
from .kinds import Label
from .label_texts import NAMED_IN_A_CRATE, LabelKind, contents, labels_for, listed_inside
from .layouts import name_height_mm, spread
from .pages import Page
from .pdf import render
from .picture import first_page, picture
from .sheets import LabelSheet, parse_sheet

MOST_LABELS = 2000
MOST_COMPLAINTS = 5
NOT_YET_ISSUED = "00000000"  # stands in a picture for a code that printing will issue


class PrintError(LabelError):
    """Nothing can be printed; the sentence says why and what to do."""


def address(given: str = "") -> str:
    """The address that tags are printed with. It lasts as long as the tags, so it is a setting and never guessed."""
    base = (given or settings.ADDRESS).strip().rstrip("/")
    if wrong := addresses.fault(base):
        raise PrintError(wrong)
    return base


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


@dataclass(frozen=True, kw_only=True)
class Batch:
    """What is to be printed, on what: tags, or places whether or not they bear a tag yet, or so many unused ones."""

    kind: str = LabelKind.PIECES
    sheet: str
    tags: list[Tag] = field(default_factory=list)
    places: list[Location] = field(default_factory=list)
    unused: int | None = None
    whole: bool = False  # all that is in a crate, on as many labels as it takes

    def not_too_many(self) -> None:
        _not_too_many(max(len(self.tags), len(self.places), 1) if self.unused is None else self.unused)


@dataclass(frozen=True)
class Printed:
    """The PDF, and the letters in it for which a sign stands because the fonts lack them."""

    pdf: bytes
    unprintable: str


def print_batch(batch: Batch, base: str, actor) -> Printed:
    """The PDF. Tags are issued by this where there are none yet, and only if everything can be printed. That it was
    printed is remembered, so that it can be printed again."""
    batch.not_too_many()
    with writing.one_transaction():
        if batch.unused is None:
            tags = _there(batch.tags or tagging.tags_of_locations(batch.places, actor))
        else:
            tags = unused(batch.unused)
        inside = listed_inside(tags, batch.kind)
        labels = _labels(batch, tags, base, inside)
        pdf = render(labels, parse_sheet(batch.sheet))
        _remember(batch, tags, base, inside, actor)
    return Printed(pdf, _unprintable(labels))


def _remember(batch: Batch, tags: list[Tag], base: str, inside: dict[int, list[str]], actor) -> None:
    codes = [tag.code for tag in tags]
    data: dict[str, Any] = {"tags": codes, "kind": str(batch.kind), "sheet": batch.sheet, "address": base}
    if inside:
        data["inside"] = {tag.code: inside[tag.location_id] for tag in tags if tag.location_id}
    if batch.whole:
        data["whole"] = True
    writing.log(actor, "print labels", data=data, remark=listed(grouped(code) for code in codes[:12]))


@dataclass(frozen=True)
class Preview:
    """What a batch would look like: its labels as far as they go on the first page, and how many there are in all."""

    batch: Batch
    labels: list[Label]
    sheet: LabelSheet
    count: int

    def picture(self) -> bytes:
        return picture(self.labels, self.sheet)

    @cached_property
    def page(self) -> Page:
        return first_page(self.labels, self.sheet)

    @property
    def sheets(self) -> int:
        return -(-(self.sheet.start - 1 + self.count) // self.sheet.cells_on_a_page)

    @property
    def unprintable(self) -> str:
        return _unprintable(self.labels)

    @property
    def name_mm(self) -> float:
        """How tall the capitals of the smallest name on the page are."""
        return min(name_height_mm(layout) for layout in self.page.layouts)


def preview(batch: Batch, base: str) -> Preview:
    """Nothing is issued and nothing remembered. A tag that printing would issue shows noughts."""
    batch.not_too_many()
    if batch.unused is None:
        tags = _there(batch.tags or _borne_by(batch.places))
    else:
        tags = [Tag(code=NOT_YET_ISSUED) for _ in range(batch.unused)]
    sheet = parse_sheet(batch.sheet)
    first = tags[: sheet.cells_on_a_page]
    labels = _labels(batch, first, base, listed_inside(first, batch.kind))
    return Preview(batch, labels, sheet, len(labels) if len(tags) <= sheet.cells_on_a_page else len(tags))


def _unprintable(labels: list[Label]) -> str:
    return " ".join(sorted(set().union(*(label.unprintable() for label in labels))))


def _there(tags: list[Tag]) -> list[Tag]:
    if not tags:
        raise PrintError("Nothing to print: nothing you chose has a tag.")
    return tags


def _borne_by(places: list[Location]) -> list[Tag]:
    borne = {tag.location_id: tag for tag in Tag.objects.borne_by_locations([place.pk for place in places])}
    return [borne.get(place.pk) or Tag(code=NOT_YET_ISSUED, location=place) for place in places]


def _labels(batch: Batch, tags: list[Tag], base: str, inside: dict[int, list[str]]) -> list[Label]:
    labels = labels_for(tags, base, batch.kind, inside, None if batch.whole else NAMED_IN_A_CRATE)
    sheet = parse_sheet(batch.sheet)
    if sheet.continuous or not batch.whole:
        return labels
    (cell, *_) = Page.empty(sheet).cells
    return [part for label in labels for part in spread(label, cell)]


def _not_too_many(count: int) -> None:
    if not 1 <= count <= MOST_LABELS:
        raise PrintError(f"{count} labels are not printed at once: ask for 1 to {MOST_LABELS}.")


@dataclass(frozen=True)
class Elsewhere:
    """Labels that lead to another address than the one that is printed now."""

    address: str
    count: int
    first: datetime
    last: datetime


def elsewhere(base: str) -> list[Elsewhere]:
    """To which other addresses labels in the shed lead, as far as it was remembered; the latest first."""
    found: dict[str, list] = {}
    for at, data in Event.objects.printings_to_other_addresses(base):
        found.setdefault(data["address"], []).append((at, len(data.get("tags", ()))))
    return [
        Elsewhere(other, sum(count for _, count in times), min(times)[0], max(times)[0])
        for other, times in sorted(found.items(), key=lambda item: max(item[1]), reverse=True)
    ]


@dataclass(frozen=True)
class LabelNews:
    """What a crate's label does not say any more: what came since it was printed, and what went."""

    printed: datetime
    came: list[str]
    went: list[str]


def label_news(place: Location, code: str) -> LabelNews | None:
    """Held against what the last printing of its label listed; None where that still holds, or was never printed."""
    event = Event.objects.last_printing_of_crate(code) if code else None
    if event is None:
        return None
    then, now = Counter(event.data["inside"][code]), Counter(contents([place.pk])[place.pk])
    if then == now:
        return None
    return LabelNews(event.at, list((now - then).elements()), list((then - now).elements()))


def times_printed(code: str) -> str:
    """“on 3 May 2026”, “3 times, last on 3 May 2026”; nothing for a tag of which no printing was remembered."""
    times = list(Event.objects.printings_of(code).values_list("at", flat=True))
    if not times:
        return ""
    last = f"on {day(localtime(times[0]).date())}"
    return last if len(times) == 1 else f"{len(times)} times, last {last}"
