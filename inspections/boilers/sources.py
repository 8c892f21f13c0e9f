"""What a figure of a calculation is linked to: a signed survey or stay map, a drawing, or a paper of the file.

A figure keeps its link as `record:12:foot`, `drawing:5` or `entry:7`. Where something later has taken the place of what
it rests on, that is told on the calculation and on the page of the boiler: nothing that was signed is changed.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from parts.domain.plain import day
from parts.models import Drawing

from ..domain.boiler_words import RecordKind
from ..models import Boiler, BoilerEntry, BoilerRecord

GIVING = (RecordKind.SURVEY, RecordKind.STAY_MAP)
MOST_DRAWINGS = 80


@dataclass(frozen=True, kw_only=True)
class Source:
    """`figure` is what it gives, as it is written into the calculation; empty where somebody reads it off."""

    link: str
    words: str
    origin: str
    href: str
    figure: str = ""
    kind: str = ""
    overtaken: str = ""


def offered(boiler: Boiler) -> list[Source]:
    """What a figure may be linked to: the last survey and stay map of each part, drawings, papers of the file."""
    in_force = BoilerRecord.objects.in_force().filter(boiler=boiler, kind__in=GIVING).order_by("on", "pk")
    latest = {(record.part_id, record.kind): record for record in in_force}
    found = [_of_record(record, name, None) for record in latest.values() for name in record.subject.get("gives", {})]
    drawings = Drawing.objects.good_for(boiler.locomotive) if boiler.locomotive else Drawing.objects.all()
    found += [_of_drawing(one, ()) for one in drawings[:MOST_DRAWINGS]]
    papers = boiler.entries.exclude(reference="").select_related("boiler").order_by("-on")
    return found + [_of_entry(one) for one in papers]


def linked(figures: Iterable[Mapping[str, str]]) -> dict[str, Source]:
    """By link, what the figures of any number of calculations rest on: at most five queries."""
    links = [one["link"].split(":", 2) for one in figures if one.get("link")]
    if not links:
        return {}
    records = BoilerRecord.objects.in_bulk(_numbers(links, "record"))
    drawings = Drawing.objects.in_bulk(_numbers(links, "drawing"))
    entries = BoilerEntry.objects.select_related("boiler").in_bulk(_numbers(links, "entry"))
    later, issues = _later(records.values()), _issues(drawings.values())
    found = []
    for of, number, *name in links:
        pk = int(number)
        if of == "record" and pk in records:
            found.append(_of_record(records[pk], "".join(name), later.get(pk)))
        elif of == "drawing" and pk in drawings:
            found.append(_of_drawing(drawings[pk], issues.get(drawings[pk].key, ())))
        elif of == "entry" and pk in entries:
            found.append(_of_entry(entries[pk]))
    return {source.link: source for source in found}


def overtaken(figures: Iterable[Mapping[str, str]], sources: Mapping[str, Source]) -> list[str]:
    """A sentence for each figure whose source something later has taken the place of."""
    return [
        f"Take {one['name']} [{one['key']}] again: {source.overtaken}."
        for one in figures
        if (source := sources.get(one.get("link", ""))) and source.overtaken
    ]


def _of_record(record: BoilerRecord, name: str, later: BoilerRecord | None) -> Source:
    survey = record.kind == RecordKind.SURVEY
    words = f"record {record.pk}, {record.title}, {name}"
    how = "is superseded by" if later and later.supersedes_id == record.pk else "is followed by"
    return Source(
        link=f"record:{record.pk}:{name}", words=f"{words}, what a pressure rests on" if survey else words,
        figure=record.subject.get("gives", {}).get(name, ""), kind="length" if survey else "area",
        origin="survey point", href=record.get_absolute_url(),
        overtaken=f"record {record.pk} {how} record {later.pk}" if later else "",
    )  # fmt: skip


def _of_drawing(drawing: Drawing, issues: Iterable[Drawing]) -> Source:
    this = (drawing.entered, drawing.pk)
    later = [one for one in issues if one.sheet == drawing.sheet and (one.entered, one.pk) > this]
    return Source(
        link=f"drawing:{drawing.pk}", words=f"drawing {drawing}: {drawing.title}", origin="drawing",
        href=drawing.get_absolute_url(),
        overtaken=f"drawing {drawing} has a later issue, {later[-1].issue}" if later else "",
    )  # fmt: skip


def _of_entry(entry: BoilerEntry) -> Source:
    words, href = f"{entry.reference}, {entry.kind} of {day(entry.on)}", f"{entry.boiler.get_absolute_url()}#entries"
    return Source(link=f"entry:{entry.pk}", words=words, origin="certificate", href=href)


def _numbers(links: Iterable[list[str]], wanted: str) -> set[int]:
    return {int(number) for of, number, *_ in links if of == wanted}


def _later(records: Iterable[BoilerRecord]) -> dict[int, BoilerRecord]:
    """By number, the signed record of the same part that took its place, or is of a later day."""
    known = {one.pk: one for one in records}
    signed = BoilerRecord.objects.in_force().filter(part__in=[one.part_id for one in known.values()])
    found: dict[int, BoilerRecord] = {}
    for other in signed.order_by("on", "pk") if known else ():
        for pk, one in known.items():
            after = other.supersedes_id == pk or other.on > one.on
            if (other.part_id, other.kind) == (one.part_id, one.kind) and after:
                found[pk] = other
    return found


def _issues(drawings: Iterable[Drawing]) -> dict[str, list[Drawing]]:
    found: dict[str, list[Drawing]] = {}
    keys = {one.key for one in drawings}
    for one in Drawing.objects.filter(key__in=keys).order_by("entered", "pk") if keys else ():
        found.setdefault(one.key, []).append(one)
    return found
