"""Writers of the register of drawings: entered, described, scanned; what each shows and is good for; and where two of
them disagree, what each says, until the responsible engineer settles it."""

from collections.abc import Iterable

from django.core.files import File
from django.db import IntegrityError, transaction
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.common import jobs
from parts.domain.drawing_words import HowKnown, number_key, read_date
from parts.models import Conflict, ConflictSide, Drawing, GoodFor, Locomotive, Paper, Position

from . import papers

DESCRIBED = ("number", "sheet", "issue", "title", "original", "original_at", "note")


def add_drawing(
    actor,
    *,
    number: str,
    title: str,
    dated: str = "",
    positions: Iterable[Position] = (),
    scan: File | None = None,
    **entered,
) -> Drawing:
    """Enter a drawing. `dated` is a year, a day like 1911-03-31, or nothing where it is not known."""
    writing.allow(actor, "edit drawings")
    with writing.one_transaction():
        drawing = Drawing(by=actor, entered=writing.today())
        _describe(drawing, {"number": number, "title": title, **entered}, dated)
        _save(drawing)
        drawing.positions.set(positions)
        _log(actor, "enter drawing", drawing)
        if scan:
            papers.keep(scan, actor, title=str(drawing), drawing=drawing)
        drawing.save()
        return drawing


def edit_drawing(drawing: Drawing, actor, *, dated: str = "", seen=None, **entered) -> None:
    """Edit details; the event keeps what was said before."""
    writing.allow(actor, "edit drawings")
    with writing.one_transaction():
        drawing = locked(drawing, seen)
        before = drawing.dated
        changed = _describe(drawing, entered, dated)
        if drawing.dated != before:
            changed["dated"] = [before, drawing.dated]
        if changed:
            _log(actor, "describe drawing", drawing, changed=changed)
            _save(drawing)


def _describe(drawing: Drawing, entered: dict, dated: str) -> dict:
    changed = jobs.fill(drawing, entered, DESCRIBED)
    drawing.key = number_key(drawing.number)
    found = jobs.too_long(drawing)
    try:
        drawing.year, drawing.drawn_on = read_date(dated, writing.today())
    except ValueError as trouble:
        found.append(Refusal("dated", f"Date: {trouble}", ""))
    if not drawing.key:
        cure = "Write what stands in its title block, or what you call it."
        found.append(Refusal("number", "Number: it has no letter and no figure.", cure))
    if not drawing.title:
        found.append(Refusal("title", "Title: nothing was written.", "Say what it shows."))
    if not found and Drawing.objects.same_as(drawing):
        found.append(_there_already(drawing))
    if found:
        raise Refused(*found)
    return changed


def _there_already(drawing: Drawing) -> Refusal:
    other = Drawing.objects.same_as(drawing)
    cure = "Open that one, or give this one its sheet or its issue."
    return Refusal("number", f"Number: {other}, “{other.title}”, is in the register already.", cure)


def _save(drawing: Drawing) -> None:
    """Somebody else may have entered the same sheet since it was looked for."""
    try:
        with transaction.atomic():
            drawing.save()
    except IntegrityError:
        raise Refused(_there_already(drawing)) from None


def add_scan(drawing: Drawing, actor, file: File | None) -> Paper:
    """Keep a scan or a photograph of it beside those that are there."""
    writing.allow(actor, "edit drawings")
    if file is None:
        raise Refused(Refusal("scan", "Scan: no file was chosen.", "Choose a PDF or a picture."))
    with writing.one_transaction():
        drawing = locked(drawing)
        paper = papers.keep(file, actor, title=str(drawing), drawing=drawing)
        _log(actor, "scan drawing", drawing)
        drawing.save()
        return paper


def show_place(drawing: Drawing, position: Position, actor, *, shown: bool = True) -> None:
    """Say that it shows this place, or does not after all."""
    writing.allow(actor, "edit drawings")
    with writing.one_transaction():
        drawing = locked(drawing)
        if drawing.positions.contains(position) == shown:
            return
        (drawing.positions.add if shown else drawing.positions.remove)(position)
        _log(actor, "drawing shows" if shown else "drawing shows not", drawing, position=position)
        drawing.save()


def good_for(
    drawing: Drawing, actor, *, how: str, locomotive: Locomotive | None = None, words: str = "", note: str = ""
) -> GoodFor:
    """Say for which locomotive it is good, and how that is known."""
    writing.allow(actor, "edit drawings")
    words, note = " ".join(words.split()), " ".join(note.split())
    with writing.one_transaction():
        drawing = locked(drawing)
        row = GoodFor(drawing=drawing, locomotive=locomotive, words=words, how=how, note=note, by=actor)
        row.at = timezone.now()
        found = [*jobs.too_long(row), *_good_troubles(row)]
        if found:
            raise Refused(*found)
        row.save()
        _log(actor, "drawing good for", drawing, good=str(row), how=how, note=note)
        drawing.save()
        return row


def _good_troubles(row: GoodFor):
    if row.how not in list(HowKnown):
        yield Refusal("how", "How that is known: none chosen.", f"Choose one of: {', '.join(HowKnown)}.")
    if (row.locomotive is None) == (not row.words):
        cure = "Choose one of ours, or write which others; not both."
        yield Refusal("locomotive", "Good for: say one thing.", cure)
    elif row.drawing.good_for.filter(locomotive=row.locomotive, words__iexact=row.words).exists():
        yield Refusal("locomotive", f"Good for: {row} is there already.", "Take that line out first, if it is wrong.")


def not_good_for(row: GoodFor, actor) -> None:
    """It is not good for that after all; the event keeps what was said."""
    writing.allow(actor, "edit drawings")
    with writing.one_transaction():
        drawing = locked(row.drawing)
        _log(actor, "drawing not good for", drawing, good=str(row), how=row.how, note=row.note)
        row.delete()
        drawing.save()


def note_conflict(
    position: Position, actor, *, about: str, sides: Iterable[tuple[Drawing, str]], note: str = ""
) -> Conflict:
    """Keep side by side what two or more drawings of one place say of one matter."""
    writing.allow(actor, "edit drawings")
    about = " ".join(about.split())
    told = [(drawing, " ".join(says.split())) for drawing, says in sides if says.strip()]
    conflict = Conflict(position=position, about=about, note=note.strip(), by=actor, at=timezone.now())
    found = jobs.too_long(conflict)
    if not about:
        found.append(
            Refusal("about", "What they disagree about: nothing was written.", "Bore, length, number of holes …")
        )
    if len({drawing.pk for drawing, _ in told}) < 2:
        cure = "Write beside at least two drawings what each says."
        found.append(Refusal("sides", "Fewer than two drawings say something.", cure))
    if len({says.casefold() for _, says in told}) < 2 <= len(told):
        found.append(Refusal("sides", "They all say the same.", "Then there is nothing to settle."))
    if any(len(says) > 300 for _, says in told):
        found.append(Refusal("sides", "What one of them says is too long.", "Say it in fewer words."))
    if found:
        raise Refused(*found)
    with writing.one_transaction():
        conflict.save()
        ConflictSide.objects.bulk_create(
            ConflictSide(conflict=conflict, drawing=drawing, says=says) for drawing, says in told
        )
        data = {"conflict": conflict.pk, "sides": [[str(drawing), says] for drawing, says in told]}
        _tell(actor, "drawings disagree", position, remark=about, data=data)
        return conflict


def settle_conflict(conflict: Conflict, actor, *, settled: str, rests_on: Drawing | None = None) -> None:
    """The responsible engineer says which of them holds, and why. That stays as it is."""
    writing.allow(actor, "decide")
    with writing.one_transaction():
        conflict = Conflict.objects.select_for_update(of=("self",)).select_related("position").get(pk=conflict.pk)
        if conflict.settled:
            raise Refused(
                Refusal("settled", "It is settled already.", "Note another conflict if more has come to light.")
            )
        if not settled.strip():
            raise Refused(Refusal("settled", "How it is settled: nothing was written.", "Say which holds, and why."))
        conflict.settled, conflict.rests_on = settled.strip(), rests_on
        conflict.settled_by, conflict.settled_at = actor, timezone.now()
        conflict.save()
        data = {"conflict": conflict.pk, "rests_on": str(rests_on or "")}
        _tell(actor, "settle drawings", conflict.position, remark=f"{conflict.about}: {conflict.settled}", data=data)


def locked(drawing: Drawing, seen=None) -> Drawing:
    """The drawing, held against other writers until the transaction ends."""
    drawing = Drawing.objects.select_for_update(of=("self",)).get(pk=drawing.pk)
    jobs.not_stale(drawing, seen)
    return drawing


def _log(actor, action: str, drawing: Drawing, position: Position | None = None, **data):
    event = _tell(actor, action, position, remark=str(drawing), data={"drawing": drawing.pk} | data)
    drawing.last_event = event.pk
    return event


def _tell(actor, action, position, *, remark, data):
    locomotive_id = position.locomotive_id if position else None
    return writing.log(actor, action, position=position, locomotive_id=locomotive_id, remark=remark, data=data)
