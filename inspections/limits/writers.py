"""Writing what pieces are measured for and judged by: dimensions, and editions of their limits."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.models import Position
from parts.queries.measured import measured

from ..domain.classes import Wears
from ..domain.lengths import LengthError, parse_length, parse_toleranced
from ..domain.limits import Limits as PlainLimits
from ..domain.limits import openness
from ..domain.verdicts import Rule
from ..models import Dimension, Limits, SheetRow
from .actions import DESCRIBED

UNITS = ("mm", "in")


@dataclass(frozen=True, kw_only=True)
class Typed:
    """Limits as typed. A single shop or scrapping limit goes to the side that wears; `lower` and `upper` name sides."""

    drawing: str = ""  # with its tolerance: `2 1/2 in H7`
    shop: str = ""
    shop_lower: str = ""
    shop_upper: str = ""
    scrapping: str = ""
    scrapping_lower: str = ""
    scrapping_upper: str = ""
    shop_open: bool = False
    scrapping_open: bool = False
    rule: str = Rule.GUARDED.value
    source: str = ""
    source_edition: str = ""


NAMES = {
    "drawing": "Drawing size",
    "shop": "Shop limit",
    "shop_lower": "Lower shop limit",
    "shop_upper": "Upper shop limit",
    "scrapping": "Scrapping limit",
    "scrapping_lower": "Lower scrapping limit",
    "scrapping_upper": "Upper scrapping limit",
}


def read(typed: Typed, *, unit: str, wears: str) -> tuple[dict, list[Refusal]]:
    """The limits in exact millimetres, as the fields of a row; and what cannot be read or does not agree."""
    fields: dict = {}
    trouble = []
    if typed.drawing.strip():
        try:
            size = parse_toleranced(typed.drawing, unit)
            fields |= {"new_lower": size.least_mm, "new_upper": size.most_mm}
        except LengthError as error:
            trouble.append(Refusal("drawing", f"{NAMES['drawing']}: {error}", "Write size and tolerance in one."))
    for name in ("shop", "scrapping"):
        for field, text in _sides(typed, name, wears):
            if field is None:
                trouble.append(
                    Refusal(name, f"{NAMES[name]}: it may wear either way.", "Give a lower and an upper limit instead.")
                )
                continue
            if field in fields:
                trouble.append(
                    Refusal(field, f"{NAMES[field]}: it is given twice.", "Give it in one of the two lines.")
                )
                continue
            try:
                fields[field] = parse_length(text, unit, signed=True)
            except LengthError as error:
                trouble.append(Refusal(field, f"{NAMES.get(field, NAMES[name])}: {error}", "Correct it."))
    if not trouble and not fields:
        trouble.append(
            Refusal("limits", "Limits: none is given.", "Give the drawing size, a shop or a scrapping limit.")
        )
    if not trouble:
        try:
            PlainLimits(**fields, **openness(typed), unit=unit, wears=Wears(wears))
        except ValueError as error:
            trouble.append(Refusal("limits", str(error), "Correct the one that is wrong."))
    return fields, trouble


def _sides(typed: Typed, name: str, wears: str):
    single = getattr(typed, name).strip()
    if single:
        sides: dict[str, str] = {Wears.SMALLER: f"{name}_lower", Wears.LARGER: f"{name}_upper"}
        yield sides.get(wears), single
    for side in (f"{name}_lower", f"{name}_upper"):
        if getattr(typed, side).strip():
            yield side, getattr(typed, side)


def add_dimension(
    position: Position,
    actor,
    *,
    name: str,
    unit: str,
    letter: str = "",
    wears: str = Wears.EITHER.value,
    stations: Iterable[str] = (),
    directions: Iterable[str] = (),
    round_part: bool = False,
    note: str = "",
    limits: Typed | None = None,
) -> Dimension:
    """A further size that the place calls for. The pieces that are there are to be measured for it."""
    writing.allow(actor, "edit limits")
    with writing.one_transaction():
        trouble = list(_dimension_trouble(position, name, unit, wears))
        if limits is not None and not trouble:
            trouble += read(limits, unit=unit, wears=wears)[1] + list(_source_trouble(limits))
        if trouble:
            raise Refused(*trouble)
        dimension = Dimension.objects.create(
            position=position,
            letter=letter.strip(),
            name=name.strip(),
            stations=_words(stations),
            directions=_words(directions),
            wears=wears,
            unit=unit,
            round_part=round_part,
            note=note.strip(),
        )
        log(actor, position, "add dimension", dimension.name)
        if limits is not None:
            _add_edition(dimension, actor, limits)
        refresh(position.pk)
        return dimension


def _words(given: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(word.strip() for word in given if word.strip()))


def _dimension_trouble(position, name, unit, wears, but: Dimension | None = None):
    if position.retired:
        yield Refusal("place", f"{position.words} is retired.", "Choose a place that is in use.")
    if not name.strip():
        yield Refusal("name", "Name: nothing was written.", "Say what is measured: journal diameter.")
    if unit not in UNITS:
        yield Refusal("unit", "Unit: none chosen.", "Choose the unit that the drawing uses, mm or in.")
    if wears not in list(Wears):
        yield Refusal("wears", "Wears: none chosen.", f"Choose one of: {', '.join(Wears)}.")
    same = position.dimensions.in_use().filter(name=name.strip()).exclude(pk=but.pk if but else None)
    if same.exists():
        yield Refusal("name", f"Name: the place has a “{name.strip()}” already.", "Give it another name.")


def _source_trouble(typed: Typed):
    if not typed.source.strip():
        yield Refusal(
            "source", "Source: nothing was written.", "A limit says where it comes from: drawing, sheet, law."
        )
    if not typed.source_edition.strip():
        yield Refusal(
            "source_edition", "Edition: nothing was written.", "Give the issue, date or edition of the source."
        )


def set_limits(
    dimension: Dimension, actor, typed: Typed, *, row: SheetRow | None = None, seen: int | None = None
) -> Limits:
    """A new edition of the limits. What was judged by an earlier one keeps its verdict and says so. `seen` is the
    edition that the form was begun from."""
    writing.allow(actor, "edit limits")
    with writing.one_transaction():
        not_overtaken(dimension.editions.select_for_update(), seen)
        trouble = read(typed, unit=dimension.unit, wears=dimension.wears)[1] + list(_source_trouble(typed))
        if trouble:
            raise Refused(*trouble)
        made = _add_edition(dimension, actor, typed, row)
        log(actor, dimension.position, "set limits", f"{dimension}, edition {made.edition}: {made}")
        return made


def not_overtaken(editions, seen: int | None) -> None:
    """Refuse what was begun from an edition that is no longer the newest."""
    newest = editions.order_by("-edition").first()
    if seen is None or newest is None or newest.edition == seen:
        return
    sentence = f"{newest.set_by} set edition {newest.edition} after you opened the page."
    raise Refused(Refusal("stale", sentence, "Nothing of yours was saved. Look at it again, then decide."))


def _add_edition(dimension, actor, typed: Typed, row=None) -> Limits:
    fields, _ = read(typed, unit=dimension.unit, wears=dimension.wears)
    return store_edition(
        dimension,
        actor,
        fields,
        drawing=typed.drawing.strip(),
        shop_open=typed.shop_open,
        scrapping_open=typed.scrapping_open,
        rule=typed.rule,
        source=typed.source.strip(),
        source_edition=typed.source_edition.strip(),
        row=row,
    )


def store_edition(dimension, actor, fields: dict, **more) -> Limits:
    newest = dimension.editions.select_for_update().order_by("-edition").first()
    return Limits.objects.create(
        dimension=dimension,
        edition=newest.edition + 1 if newest else 1,
        set_by=actor,
        set_at=timezone.now(),
        **fields,
        **more,
    )


def edits_of(dimension: Dimension):
    """The events that change what the form of a size shows."""
    return Event.objects.about("size", dimension.pk).filter(action="edit dimension")


def edit_dimension(dimension: Dimension, actor, *, seen: int | None = None, **changes) -> None:
    """Name, letter, stations, directions, note; the event keeps what was said before. Unit and way of wear stay: limits
    and readings rest on them."""
    writing.allow(actor, "edit limits")
    with writing.one_transaction():
        writing.hold(dimension)
        writing.not_overtaken(edits_of(dimension), seen)
        name = changes.get("name", dimension.name)
        trouble = list(_dimension_trouble(dimension.position, name, dimension.unit, dimension.wears, but=dimension))
        if trouble:
            raise Refused(*trouble)
        entered = {name: changes[name] for name in DESCRIBED if name in changes}
        entered |= {name: _words(entered[name]) for name in ("stations", "directions") if name in entered}
        changed = {name: [old, new] for name, new in entered.items() if (old := getattr(dimension, name)) != new}
        for name, new in entered.items():
            setattr(dimension, name, new)
        if changed:
            dimension.save(update_fields=list(changed))
            log(actor, dimension.position, "edit dimension", str(dimension), dimension=dimension, data=changed)


def retire_dimension(dimension: Dimension, actor, *, reason: str) -> None:
    """The place calls for it no longer; what was measured stays on record."""
    writing.allow(actor, "edit limits")
    if not reason.strip():
        raise Refused(Refusal("reason", "Reason: nothing was written.", "Say why it is no longer measured."))
    with writing.one_transaction():
        mates = measured.mates({dimension.position_id})
        dimension.retired = True
        dimension.save(update_fields=["retired"])
        dimension.fits_as_hole.update(retired=True)
        dimension.fits_as_shaft.update(retired=True)
        log(actor, dimension.position, "retire dimension", f"{dimension}: {reason.strip()}")
        refresh(dimension.position_id, *mates)


def log(actor, position: Position, action: str, remark: str, **more):
    writing.log(actor, action, locomotive_id=position.locomotive_id, position_id=position.pk, remark=remark, **more)
