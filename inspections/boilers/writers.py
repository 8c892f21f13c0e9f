"""Writing the file of a boiler: the boiler, its parts, its written scheme, and entries that are never changed."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.common import jobs
from parts.domain.plain import day
from parts.models import HoldPoint, Locomotive, Position

from ..domain.boiler_status import allowed_on
from ..domain.boiler_words import PRESSURE_KINDS, EntryKind
from ..domain.pressures import read_pressure
from ..domain.survey_words import read_block
from ..models import Boiler, BoilerEntry, BoilerPart, SchemeRow
from .boiler_context import entries_of, places_of

DESCRIBED = ("number", "maker", "built", "regime", "body", "person", "wanted", "note")
PART = ("kind", "name", "position", "metal", "shape", "width", "height", "nominal", "needed", "needed_from", "features")
ROW = ("item", "nature", "months", "preparation", "limits", "by", "last", "retired")


def add_boiler(actor, *, locomotive: Locomotive | None = None, **entered) -> Boiler:
    """A further boiler, on a locomotive or as a spare."""
    writing.allow(actor, "keep boilers")
    _not_taken(Boiler, "number", entered["number"], "number", "A boiler of that number has a file.")
    with writing.one_transaction():
        boiler = Boiler.objects.create(locomotive=locomotive, **entered)
        writing.log(actor, "add boiler", boiler=boiler, locomotive=locomotive, remark=str(boiler))
        return boiler


PART_WORD, ROW_WORD = "describe boiler part", "write boiler scheme"


def edits_of(boiler: Boiler, word: str = "describe boiler"):
    return Event.objects.about("boiler", boiler.pk).filter(action=word)


def describe(boiler: Boiler, actor, *, seen: int | None = None, **entered) -> None:
    writing.allow(actor, "keep boilers")
    with writing.one_transaction():
        writing.hold(boiler)
        writing.not_overtaken(edits_of(boiler), seen)
        _not_taken(Boiler, "number", entered["number"], "number", "A boiler of that number has a file.", but=boiler)
        _change(boiler, entered, DESCRIBED, actor, "describe boiler", boiler)


def put_part(
    boiler: Boiler, actor, *, part: BoilerPart | None = None, seen: int | None = None, **entered
) -> BoilerPart:
    """A further part of a boiler, or one described anew."""
    writing.allow(actor, "keep boilers")
    trouble = list(_part_trouble(entered))
    others = BoilerPart.objects.filter(boiler=boiler, name=entered["name"])
    if any(one != part for one in others):
        trouble.append(Refusal("name", "The boiler has a part of that name.", "Give another name."))
    if trouble:
        raise Refused(*trouble)
    with writing.one_transaction():
        return _put(part or BoilerPart(boiler=boiler), entered, PART, actor, PART_WORD, boiler, seen)


def _part_trouble(entered: dict):
    if entered.get("needed") and not entered.get("needed_from"):
        yield Refusal("needed_from", "Nothing says where the thickness needed comes from.", "Name the paper or rule.")
    if bool(entered.get("width")) != bool(entered.get("height")):
        yield Refusal("height", "One size of the sheet is missing.", "Give both width and height, or neither.")


def put_row(boiler: Boiler, actor, *, row: SchemeRow | None = None, seen: int | None = None, **entered) -> SchemeRow:
    """A row of the written scheme, or one written anew as the competent person certified it."""
    writing.allow(actor, "keep boilers")
    if entered.get("last") and entered["last"] > writing.today():
        raise Refused(Refusal("last", "That day is still to come.", "Give the day on which it was done."))
    with writing.one_transaction():
        return _put(row or SchemeRow(boiler=boiler), entered, ROW, actor, ROW_WORD, boiler, seen)


def enter(
    boiler: Boiler,
    actor,
    *,
    kind: str,
    on: date,
    words: str,
    pressure: str = "",
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
        writing.hold(boiler)
        if hold:
            writing.hold(hold)
        trouble = list(_entry_trouble(kind, on, part, points, reference))
        trouble += [*_repair_trouble(boiler, kind, on, hold), *_pressure_trouble(boiler, kind, on, pressure)]
        if trouble:
            raise Refused(*trouble)
        if row:
            writing.hold(row)
            if row.last is None or on > row.last:  # logged, so that a form opened before does not put it back
                _change(row, {"last": on}, ("last",), actor, ROW_WORD, boiler)
        event = writing.log(
            actor,
            "enter in boiler file",
            boiler=boiler,
            locomotive=boiler.locomotive,
            remark=words,
            data={"kind": kind},
        )
        return BoilerEntry.objects.create(
            boiler=boiler, kind=kind, on=on, words=words, part=part, points=points, row=row, hold=hold,
            pressure=pressure if kind in PRESSURE_KINDS else "", reference=reference, by=by, event=event,
        )  # fmt: skip


def _entry_trouble(kind, on, part, points, reference):
    if on > writing.today():
        yield Refusal("on", "That day is still to come.", "Give the day on which it was done.")
    if points.strip():
        try:
            read_block(points)
        except ValueError as wrong:
            yield Refusal("points", str(wrong))
    if kind == EntryKind.BUILD_UP and part is None:
        yield Refusal("part", "Say what was renewed or built up.", "Choose the part.")
    if kind in (EntryKind.PAPER, *PRESSURE_KINDS) and not reference.strip():
        yield Refusal("reference", "Nothing says which paper.", "Give its number and date, and where it lies.")


def _repair_trouble(boiler: Boiler, kind: str, on: date, hold: HoldPoint | None):
    """Metal is cut after the inspecting body released it, one release for one repair."""
    repairs = [one for one in boiler.entries.all() if one.kind in (EntryKind.REPAIR_BEGUN, EntryKind.REPAIR_DONE)]
    if kind == EntryKind.REPAIR_DONE and not sum(1 if one.kind == EntryKind.REPAIR_BEGUN else -1 for one in repairs):
        yield Refusal("kind", "No pressure repair is begun.", "Write down first that it was begun, with its release.")
    if kind != EntryKind.REPAIR_BEGUN:
        return
    if hold is None:
        cure = "Choose the hold point that the named body released."
        yield Refusal("hold", "A pressure repair waits for its release.", cure)
    elif hold.body not in (boiler.body, boiler.person):
        yield Refusal("hold", f"“{hold}” is released by {hold.body}.", f"Choose one that {boiler.body} released.")
    elif hold.released_on is None or hold.stops_on(writing.today()):
        yield Refusal("hold", f"Cut no metal before “{hold}” is released.", f"Ask {hold.body} to release it.")
    elif hold.released_on > on:
        yield Refusal("on", f"“{hold}” was released on {day(hold.released_on)}, after that day.", "Give the right day.")
    elif any(one.hold_id == hold.pk for one in repairs):
        yield Refusal("hold", f"“{hold}” was released for another repair.", "Have this repair released too.")


def _pressure_trouble(boiler: Boiler, kind: str, on: date, pressure: str):
    """A lowered pressure is below what was allowed before, or else below what is wanted."""
    if kind not in PRESSURE_KINDS:
        return
    try:
        found = read_pressure(pressure)
    except ValueError as wrong:
        yield Refusal("pressure", str(wrong) if pressure else "Nothing was written.", "Give it with its unit.")
        return
    before = allowed_on(entries_of(boiler), on) or boiler.wanted
    if kind == EntryKind.PRESSURE_LOWERED and found >= read_pressure(before):
        yield Refusal("pressure", f"That is not below {before}.", "Give the lowered pressure, or choose another word.")


def move(boiler: Boiler, actor, *, locomotive: Locomotive | None, on: date, words: str) -> list[BoilerPart]:
    """Put the boiler on another locomotive, or set it aside as a spare; its file goes with it.

    Answers with the parts that had a place in the register and have none where it came to.
    """
    writing.allow(actor, "keep boilers")
    with writing.one_transaction():
        writing.hold(boiler)
        if boiler.locomotive_id == (locomotive and locomotive.pk):
            raise Refused(Refusal("locomotive", "The boiler is there already.", "Choose where it goes."))
        if on > writing.today():
            raise Refused(Refusal("on", "That day is still to come.", "Give the day on which it was moved."))
        boiler.locomotive = locomotive
        boiler.save(update_fields=["locomotive"])
        without = _find_its_places(boiler)
        kind = EntryKind.MOVE.value
        event = writing.log(actor, "move boiler", boiler=boiler, locomotive=locomotive, data={"kind": kind})
        where = f"to {locomotive}" if locomotive else "set aside as a spare"
        BoilerEntry.objects.create(
            boiler=boiler, kind=kind, on=on, words=f"Moved {where}. {words}".strip(), locomotive=locomotive, event=event
        )
        return without


def _find_its_places(boiler: Boiler) -> list[BoilerPart]:
    """Its parts stand for the places of that name on where it came to; of a spare, or under another name, for none."""
    without = []
    there = places_of(boiler) if boiler.locomotive_id else Position.objects.none()
    places: dict[str, list[Position]] = {}
    for place in there:
        places.setdefault(place.name, []).append(place)
    for part in boiler.parts.select_related("position"):
        named = places.get(part.position.name if part.position else part.name, [])
        had, part.position = part.position, named[0] if len(named) == 1 else None
        part.save(update_fields=["position"])
        if had and part.position is None:
            without.append(part)
    return without


def _put(thing, entered, names, actor, word, boiler, seen):
    if thing.pk is None:
        for name, value in entered.items():
            setattr(thing, name, value)
        thing.save()
        writing.log(actor, word, boiler=boiler, remark=str(thing))
        return thing
    writing.hold(thing)
    writing.not_overtaken(edits_of(boiler, word), seen)
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
