"""Writing records of a boiler: begun, typed, signed; then checked by a second person, and accepted on paper."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.holds.lapsing import lapse
from parts.models import HoldPoint

from ..boilers import sources
from ..domain.boiler_words import RecordKind
from ..models import Boiler, BoilerPart, BoilerRecord, BoilerRecordNote, Instrument
from . import digests
from .record_context import context_of, paper_of

MERGED = ("readings", "missed", "stays")
"""What several pages and several phones type into: point by point, so that nobody undoes another's figures."""


def begin(
    boiler: Boiler,
    actor,
    *,
    kind: str,
    title: str,
    on: date,
    entered: dict[str, Any],
    part: BoilerPart | None = None,
    instrument: Instrument | None = None,
    hold: HoldPoint | None = None,
    supersedes: BoilerRecord | None = None,
) -> BoilerRecord:
    writing.allow(actor, "write boiler records")
    if on > writing.today():
        raise Refused(Refusal("on", "That day is still to come.", "Give the day on which it was done."))
    with writing.one_transaction():
        if supersedes and BoilerRecord.objects.filter(supersedes=supersedes).exists():
            raise Refused(Refusal("supersedes", "Another record takes its place already.", "Open that one."))
        record = BoilerRecord.objects.create(
            boiler=boiler, part=part, kind=kind, title=title, on=on, entered=entered | _gauge(instrument), hold=hold,
            instrument=instrument, begun_by=actor, supersedes=supersedes,
        )  # fmt: skip
        _log(actor, "begin boiler record", record)
        return record


def save(
    record: BoilerRecord, actor, entered: dict[str, Any], *, blank: Mapping[str, str] | None = None, **fields
) -> BoilerRecord:
    """Put what was typed beside what was there, and `blank` at points that are still so. Raises Refused once signed."""
    writing.allow(actor, "write boiler records")
    if fields.get("on") and fields["on"] > writing.today():
        raise Refused(Refusal("on", "That day is still to come.", "Give the day on which it was done."))
    with writing.one_transaction():
        record = _open(record)
        record.entered |= _merged(record.entered, entered, blank or {})
        for name, value in fields.items():
            setattr(record, name, value)
        record.entered |= _gauge(record.instrument)
        record.save()
        return record


def describe(
    record: BoilerRecord, actor, entered: dict[str, Any], *, seen: int | None = None, **fields
) -> BoilerRecord:
    """Say anew what was settled for it: its head, or all of a test. Whoever saves second is told."""
    writing.allow(actor, "write boiler records")
    with writing.one_transaction():
        before = _open(record)
        writing.not_overtaken(edits_of(before), seen)
        after = save(record, actor, dict(entered), **fields)
        changed = _changed(before, after, entered, fields)
        if changed:
            _log(actor, "describe boiler record", after, changed=changed)
        return after


def edits_of(record: BoilerRecord) -> QuerySet[Event]:
    """Those of what was settled; readings are put point by point, and tell nobody that somebody was quicker."""
    return Event.objects.about("boiler", record.boiler_id).filter(
        action="describe boiler record", data__record=record.pk
    )


def _changed(before: BoilerRecord, after: BoilerRecord, entered: dict[str, Any], fields) -> dict[str, list[str]]:
    typed = {name: (before.entered.get(name), after.entered[name]) for name in entered}
    typed |= {name: (getattr(before, name), getattr(after, name)) for name in fields}
    told = {name: [str(one or "") for one in pair] for name, pair in typed.items()}
    return {name: pair for name, pair in told.items() if pair[0] != pair[1]}


def change(record: BoilerRecord, actor, make: Callable[[dict[str, Any]], dict[str, Any]]) -> None:
    """Put what `make` answers in place of what was there; it is given what stands there once nobody else may write."""
    writing.allow(actor, "write boiler records")
    with writing.one_transaction():
        record = _open(record)
        record.entered |= _merged(record.entered, make(record.entered), {})
        record.save(update_fields=["entered"])


def _merged(before: dict[str, Any], entered: dict[str, Any], blank: Mapping[str, str]) -> dict[str, Any]:
    for name in MERGED:
        if name in entered:
            merged = dict(blank) | before.get(name, {}) | entered[name]
            entered[name] = {key: text for key, text in merged.items() if text}
    return entered


def throw_away(record: BoilerRecord, actor) -> None:
    writing.allow(actor, "write boiler records")
    with writing.one_transaction():
        record = _open(record)
        _log(actor, "throw away boiler record", record)
        record.delete()


def sign(record: BoilerRecord, actor) -> BoilerRecord:
    """Close it under a name. A bad test, or one that another supersedes, makes the release of its hold lapse."""
    writing.allow(actor, "sign boiler record")
    with writing.one_transaction():
        record = _open(record)
        record.entered |= _gauge(record.instrument)
        paper = paper_of(record)
        if paper.against:
            raise Refused(*(Refusal("unready", sentence) for sentence in paper.against))
        event = _log(actor, "sign boiler record", record)
        kept = {"signed by": str(actor), "owed": list(paper.owed), "gives": dict(paper.gives)}
        record.subject = context_of(record) | kept
        record.sentence, record.passed, record.counts = paper.sentence, paper.passed, paper.counts
        record.event, record.signed_by, record.signed_at = event, actor, timezone.now()
        record.digest = digests.of_record(record)
        record.save()
        for hold in _no_longer_supported(record):
            lapse(hold, event, f"{hold}: {record.title}, {record.sentence}")
        return record


def _no_longer_supported(record: BoilerRecord) -> list[HoldPoint]:
    """Released hold points whose test failed, does not count, or is superseded by this one."""
    if record.kind != RecordKind.TEST:
        return []
    tests = [record.supersedes] if record.supersedes else []
    if not (record.passed and record.counts):
        signed = BoilerRecord.objects.signed().filter(boiler=record.boiler, kind=record.kind)
        tests += [one for one in (*signed, record) if one.entered["sort"] == record.entered["sort"]]
    holds = {one.hold_id for one in tests if one.hold_id}
    return list(HoldPoint.objects.filter(pk__in=holds, released_on__isnull=False).select_for_update(of=("self",)))


def check(record: BoilerRecord, actor, *, words: str = "") -> BoilerRecordNote:
    """A second person worked it again. Neither who typed it nor who signed it may."""
    writing.allow(actor, "check boiler record")
    with writing.one_transaction():
        record = _signed(record)
        if actor.pk in (record.signed_by_id, record.begun_by_id):
            raise Refused(
                Refusal(
                    "second", "Ask somebody else to check it: you wrote or signed this record.", "Ask a second person."
                )
            )
        if record.notes.filter(kind=BoilerRecordNote.CHECKED, by=actor).exists():
            raise Refused(Refusal("twice", "You have checked it already.", "There is nothing more to do."))
        return _note(record, actor, BoilerRecordNote.CHECKED, "check boiler record", who=str(actor), words=words)


def file_acceptance(record: BoilerRecord, actor, *, who: str, reference: str, words: str = "") -> BoilerRecordNote:
    """The competent person accepted it on a signed paper, which is filed here. Nobody accepts in their place."""
    writing.allow(actor, "file acceptance")
    with writing.one_transaction():
        record = _signed(record)
        if record.kind == RecordKind.CALCULATION and not record.notes.filter(kind=BoilerRecordNote.CHECKED).exists():
            raise Refused(
                Refusal("check", "Nobody has checked this calculation.", "Let a second person work it again.")
            )
        if late := _overtaken(record):
            raise Refused(*(Refusal("overtaken", sentence, "Correct it by a new record first.") for sentence in late))
        if not who.strip() or not reference.strip():
            raise Refused(
                Refusal("reference", "Nothing names the signed paper.", "Give who signed it, and its number.")
            )
        noted = {"who": who, "reference": reference, "words": words}
        return _note(record, actor, BoilerRecordNote.ACCEPTED, "file acceptance", **noted)


def _overtaken(record: BoilerRecord) -> list[str]:
    figures = record.entered.get("figures", ())
    return sources.overtaken(figures, sources.linked(figures))


def _note(record, actor, kind, word, **fields) -> BoilerRecordNote:
    event = _log(actor, word, record)
    return BoilerRecordNote.objects.create(
        record=record, kind=kind, digest=record.digest, by=actor, event=event, **fields
    )


def _signed(record: BoilerRecord) -> BoilerRecord:
    found = BoilerRecord.objects.select_for_update(of=("self",)).get(pk=record.pk)
    if found.signed_at is None:
        raise Refused(Refusal("unsigned", "Nobody has signed it yet.", "Sign it first."))
    if BoilerRecord.objects.signed().filter(supersedes=found).exists():
        raise Refused(Refusal("superseded", "A later record has taken its place.", "Open that one."))
    return found


def _open(record: BoilerRecord) -> BoilerRecord:
    found = BoilerRecord.objects.select_for_update(of=("self",)).get(pk=record.pk)
    if found.signed_at is not None:
        raise Refused(Refusal("signed", "It is signed and never changed.", "Begin another that takes its place."))
    return found


def _gauge(instrument: Instrument | None) -> dict[str, str]:
    """The gauge as it stands: its uncertainty and until when it is good."""
    if instrument is None:
        return {}
    until = None if instrument.found_out or instrument.retired else instrument.calibrated_until
    return {
        "instrument": str(instrument),
        "uncertainty": str(instrument.uncertainty),
        "calibrated_until": until.isoformat() if until else "",
    }


def _log(actor, word, record, **more):
    return writing.log(
        actor, word, boiler=record.boiler, locomotive=record.boiler.locomotive,
        position_id=record.part and record.part.position_id, remark=f"{record.boiler}, {record.title}",
        data={"record": record.pk, "kind": record.kind} | more,
    )  # fmt: skip
