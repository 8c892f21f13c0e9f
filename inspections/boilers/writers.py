"""Writing the file of a boiler: the boiler, its parts, its written scheme, and entries that are never changed."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.common import jobs
from parts.domain.plain import day
from parts.models import HoldPoint, Locomotive

from ..domain.boiler_words import EntryKind
from ..models import Boiler, BoilerEntry, BoilerPart, SchemeRow

DESCRIBED = ("number", "maker", "built", "regime", "body", "person", "wanted", "note")
PART = ("kind", "name", "position", "metal", "shape", "width", "height", "nominal", "needed", "needed_from")
ROW = ("item", "nature", "months", "preparation", "limits", "by", "last", "retired")


def add_boiler(actor, *, locomotive: Locomotive | None = None, **entered) -> Boiler:
    """A further boiler, on a locomotive or as a spare."""
    writing.allow(actor, "keep boilers")
    _not_taken(Boiler, "number", entered["number"], "number", "A boiler of that number has a file.")
    with writing.one_transaction():
        boiler = Boiler.objects.create(locomotive=locomotive, **entered)
        writing.log(actor, "add boiler", boiler=boiler, locomotive=locomotive, remark=str(boiler))
        return boiler


def edits_of(boiler: Boiler):
    return Event.objects.about("boiler", boiler.pk).filter(action="describe boiler")


def describe(boiler: Boiler, actor, *, seen: int | None = None, **entered) -> None:
    writing.allow(actor, "keep boilers")
    with writing.one_transaction():
        writing.hold(boiler)
        writing.not_overtaken(edits_of(boiler), seen)
        _not_taken(Boiler, "number", entered["number"], "number", "A boiler of that number has a file.", but=boiler)
        _change(boiler, entered, DESCRIBED, actor, "describe boiler", boiler)


def put_part(boiler: Boiler, actor, *, part: BoilerPart | None = None, **entered) -> BoilerPart:
    """A further part of a boiler, or one described anew."""
    writing.allow(actor, "keep boilers")
    trouble = list(_part_trouble(entered))
    others = BoilerPart.objects.filter(boiler=boiler, name=entered["name"])
    if any(one != part for one in others):
        trouble.append(Refusal("name", "The boiler has a part of that name.", "Give another name."))
    if trouble:
        raise Refused(*trouble)
    with writing.one_transaction():
        return _put(part or BoilerPart(boiler=boiler), entered, PART, actor, "describe boiler part", boiler)


def _part_trouble(entered: dict):
    if entered.get("needed") and not entered.get("needed_from"):
        yield Refusal("needed_from", "Nothing says where the thickness needed comes from.", "Name the paper or rule.")
    if bool(entered.get("width")) != bool(entered.get("height")):
        yield Refusal("height", "One size of the sheet is missing.", "Give both width and height, or neither.")


def put_row(boiler: Boiler, actor, *, row: SchemeRow | None = None, **entered) -> SchemeRow:
    """A row of the written scheme, or one written anew as the competent person certified it."""
    writing.allow(actor, "keep boilers")
    if entered.get("last") and entered["last"] > writing.today():
        raise Refused(Refusal("last", "That day is still to come.", "Give the day on which it was done."))
    with writing.one_transaction():
        return _put(row or SchemeRow(boiler=boiler), entered, ROW, actor, "write boiler scheme", boiler)


def enter(
    boiler: Boiler,
    actor,
    *,
    kind: str,
    on: date,
    words: str,
    part: BoilerPart | None = None,
    points: str = "",
    row: SchemeRow | None = None,
    hold: HoldPoint | None = None,
    reference: str = "",
    by: str = "",
) -> BoilerEntry:
    """Write into the file. A pressure repair waits for the release of its hold point before metal is cut."""
    writing.allow(actor, "keep boilers")
    with writing.one_transaction():
        if hold:
            writing.hold(hold)
        trouble = list(_entry_trouble(kind, on, part, hold, reference))
        if trouble:
            raise Refused(*trouble)
        event = writing.log(
            actor,
            "enter in boiler file",
            boiler=boiler,
            locomotive=boiler.locomotive,
            remark=words,
            data={"kind": kind},
        )
        if row and (row.last is None or on > row.last):
            row.last = on
            row.save(update_fields=["last"])
        return BoilerEntry.objects.create(
            boiler=boiler, kind=kind, on=on, words=words, part=part, points=points, row=row, hold=hold,
            reference=reference, by=by, event=event,
        )  # fmt: skip


def _entry_trouble(kind, on, part, hold, reference):
    if on > writing.today():
        yield Refusal("on", "That day is still to come.", "Give the day on which it was done.")
    if kind == EntryKind.REPAIR_BEGUN and hold is None:
        yield Refusal(
            "hold", "A pressure repair waits for its release.", "Choose the hold point that the named body released."
        )
    elif kind == EntryKind.REPAIR_BEGUN and hold.stops_on(writing.today()):
        yield Refusal("hold", f"Cut no metal before “{hold}” is released.", f"Ask {hold.body} to release it.")
    elif kind == EntryKind.REPAIR_BEGUN and hold.released_on > on:
        yield Refusal("on", f"“{hold}” was released on {day(hold.released_on)}, after that day.", "Give the right day.")
    if kind == EntryKind.BUILD_UP and part is None:
        yield Refusal("part", "Nothing says what was renewed or built up.", "Choose the part.")
    if kind in (EntryKind.PAPER, EntryKind.PRESSURE_LOWERED) and not reference.strip():
        yield Refusal("reference", "Nothing says which paper.", "Give its number and date, and where it lies.")


def move(boiler: Boiler, actor, *, locomotive: Locomotive | None, on: date, words: str) -> None:
    """Put the boiler on another locomotive, or set it aside as a spare. Its file goes with it."""
    writing.allow(actor, "keep boilers")
    with writing.one_transaction():
        writing.hold(boiler)
        if boiler.locomotive_id == (locomotive and locomotive.pk):
            raise Refused(Refusal("locomotive", "The boiler is there already.", "Choose where it goes."))
        if on > writing.today():
            raise Refused(Refusal("on", "That day is still to come.", "Give the day on which it was moved."))
        boiler.locomotive = locomotive
        boiler.save(update_fields=["locomotive"])
        kind = EntryKind.MOVE.value
        event = writing.log(actor, "move boiler", boiler=boiler, locomotive=locomotive, data={"kind": kind})
        where = f"to {locomotive}" if locomotive else "set aside as a spare"
        BoilerEntry.objects.create(
            boiler=boiler, kind=kind, on=on, words=f"Moved {where}. {words}".strip(), locomotive=locomotive, event=event
        )


def _put(thing, entered, names, actor, word, boiler):
    if thing.pk is None:
        for name, value in entered.items():
            setattr(thing, name, value)
        thing.save()
        writing.log(actor, word, boiler=boiler, remark=str(thing))
        return thing
    writing.hold(thing)
    _change(thing, entered, names, actor, word, boiler)
    return thing


def _change(thing, entered, names, actor, word, boiler) -> None:
    changed = jobs.fill(thing, {name: entered.get(name, getattr(thing, name)) for name in names}, names)
    if changed:
        thing.save(update_fields=list(changed))
        writing.log(actor, word, boiler=boiler, remark=str(thing), data={"changed": changed})


def _not_taken(model, name, value, code, sentence, but=None) -> None:
    if model.objects.filter(**{name: value}).exclude(pk=but and but.pk).exists():
        raise Refused(Refusal(code, sentence, "Give another, or open that file."))
