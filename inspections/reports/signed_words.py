"""A signed record in the words that it was signed in, as the chain keeps them: its page and its print draw from these.

Records from before the chain have no text there and are told from their rows.
"""

import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import date
from typing import Any

from core.models import SignedText

from ..cracks import crack_record
from ..cracks.crack_record import CrackRecord
from ..domain.size_picture import LimitMark, SizePicture, Stretch
from ..models import Examination
from . import record_words
from .record_words import IndicationInRecord, RecordWords, SizeInRecord

KIND = "examination"
TOLD = ("title", "piece", "looked", "how", "questions", "notes")
OF_RECORD = ("kind", "method", "result", "found", "remarks", "subject")


def words_of(sheet: RecordWords) -> dict[str, Any]:
    """Everything that the page and the print say of the record itself; what was decided since is not among it."""
    crack = crack_record.of(sheet.record)
    return {name: getattr(sheet, name) for name in TOLD} | {
        "sizes": [asdict(size) for size in sheet.sizes],
        "shown": [asdict(shown) | {"decided": ""} for shown in sheet.shown],
        "lines": [asdict(replace(line, decision=None)) for line in crack.shown] if crack else [],
    }


def sheet_of(record: Examination) -> RecordWords:
    return sheets_of([record])[0]


def sheets_of(records: Sequence[Examination]) -> list[RecordWords]:
    """`records` as `Examination.objects.for_page()` gives them."""
    texts = {one.number: one for one in SignedText.objects.of(KIND, [record.pk for record in records])}
    sheets = record_words.sheets_of(list(records))
    return [_as_signed(sheet, texts[sheet.record.pk]) if sheet.record.pk in texts else sheet for sheet in sheets]


def _as_signed(sheet: RecordWords, there: SignedText) -> RecordWords:
    content = json.loads(there.text)
    record, words = sheet.record, content["words"]
    as_signed = sheet.as_signed and record.digest == content["record"]["digest"]
    for name in OF_RECORD:
        setattr(record, name, content["record"][name])
    record.on = date.fromisoformat(content["record"]["on"])
    decided = {one.number: one.decided for one in sheet.shown}
    return replace(
        sheet,
        **{name: _pairs(words[name]) for name in TOLD},
        sizes=[_size(one) for one in words["sizes"]],
        shown=[
            IndicationInRecord(**one | {"decided": decided.get(one["number"], "not decided yet")})
            for one in words["shown"]
        ],
        lines=words["lines"],
        as_signed=as_signed,
        link=there.link,
    )


def crack_of(sheet: RecordWords) -> CrackRecord | None:
    """What its page shows of a crack check; `sheet` as `sheet_of` gives it."""
    crack = crack_record.of(sheet.record)
    if crack is None or sheet.link is None:
        return crack
    decided = {line.number: line.decision for line in crack.shown}
    shown = [crack_record.IndicationLine(**line | {"decision": decided.get(line["number"])}) for line in sheet.lines]
    done = [pair for pair in sheet.how if pair != record_words.NO_LEVEL]
    return replace(crack, done=done, answers=list(sheet.questions), shown=shown)


def _pairs(told: Any) -> Any:
    """JSON knows no pairs."""
    return [tuple(one) if isinstance(one, list) else one for one in told] if isinstance(told, list) else told


def _size(content: dict[str, Any]) -> SizeInRecord:
    drawn = content["picture"]
    if drawn:
        stretches = tuple(Stretch(**one) for one in drawn["stretches"])
        guard = tuple(drawn["guard"]) if drawn["guard"] else None
        marks = tuple(LimitMark(**one) for one in drawn["marks"])
        drawn = SizePicture(**drawn | {"stretches": stretches, "marks": marks, "guard": guard})
    facts = {name: _pairs(content[name]) for name in ("facts", "readings", "questions")}
    return SizeInRecord(**content | facts | {"picture": drawn})
