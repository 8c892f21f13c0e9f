"""Writing limit sheets, and giving places the limits of their rows."""

from collections.abc import Iterable

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.models import Position

from ..domain import shipped_sheet as shipped
from ..domain.attaching import LIMITS, How, Original, limits_of_row
from ..domain.limits import Limits as PlainLimits
from ..domain.limits import openness
from ..domain.two_units import in_both
from ..domain.units import INCH_MM
from ..fits import writers as fits
from ..limits.writers import log, store_edition
from ..models import Dimension, Limits, LimitSheet, SheetRow

ASKED = {How.LOSS: ("original", "Original size"), How.BELOW_GAUGE: ("gauge", "Track gauge")}
ORIGINAL_OVER_MM = {shipped.OVER_6_IN: 6 * INCH_MM}


def ship() -> LimitSheet:
    """The published sheet that comes with the program: there once, however often this is called."""
    kept = {
        "source": shipped.SOURCE,
        "jurisdiction": shipped.JURISDICTION,
        "added_by": None,
        "added_at": timezone.now(),
    }
    with writing.one_transaction():
        sheet, made = LimitSheet.objects.get_or_create(name=shipped.NAME, edition=shipped.EDITION, defaults=kept)
        if made:
            _write_rows(sheet, shipped.shipped_rows())
        return sheet


def add_sheet(
    actor, *, name: str, edition: str, source: str, jurisdiction: str = "", rows: Iterable[dict]
) -> LimitSheet:
    """A sheet with its rows, whole or not at all. `rows` are the fields of SheetRow."""
    writing.allow(actor, "edit limits")
    rows = list(rows)
    trouble = list(sheet_trouble(name, edition, source, rows))
    if trouble:
        raise Refused(*trouble)
    with writing.one_transaction():
        sheet = LimitSheet.objects.create(
            name=name.strip(),
            edition=edition.strip(),
            source=source.strip(),
            jurisdiction=jurisdiction.strip(),
            added_by=actor,
            added_at=timezone.now(),
        )
        _write_rows(sheet, rows)
        writing.log(actor, "add limit sheet", remark=str(sheet))
        return sheet


def _write_rows(sheet, rows):
    SheetRow.objects.bulk_create(SheetRow(sheet=sheet, number=n, **row) for n, row in enumerate(rows, 1))


def sheet_trouble(name, edition, source, rows):
    for code, label, text in (("name", "Name", name), ("edition", "Edition", edition), ("source", "Source", source)):
        if not text.strip():
            yield Refusal(code, f"{label}: nothing was written.", "Limits say where they come from.")
    if LimitSheet.objects.filter(name=name.strip(), edition=edition.strip()).exists():
        yield Refusal(
            "edition", f"Edition: “{name.strip()}” of {edition.strip()} is here already.",
            "Editions are added, never edited: give this one an edition of its own.",
        )  # fmt: skip
    if not rows:
        yield Refusal("rows", "The sheet has no rows.", "Give at least one limit.")


def attach(
    row: SheetRow, position: Position, actor, *, name: str = "", original: Original | None = None, gauge_mm=None
) -> Limits:
    """Give a place the limits of a row: its size of that name gets a new edition, or is made if there is none.

    A row that limits the loss from the original size asks for that size, and one below the track gauge for the gauge.
    What the drawing says stays, where the row says nothing of it.
    """
    writing.allow(actor, "edit limits")
    british = not position.locomotive.american
    name = name.strip() or shipped.size_name(row.item, row.applies_to, row.kind, british=british)[:120]
    with writing.one_transaction():
        fields = _limits(row, original, gauge_mm)
        dimension = position.dimensions.in_use().filter(name=name).first() or Dimension.objects.create(
            position=position, letter=row.letter, name=name, wears=row.wears, unit=row.unit,
            round_part="diameter" in name.lower(),
        )  # fmt: skip
        drawing = (original.drawing if original else "") or row.drawing
        fields, drawing = _with_the_drawing(dimension, fields, drawing)
        _check(dimension, row, fields)
        made = store_edition(
            dimension,
            actor,
            fields,
            drawing=drawing,
            shop_open=row.shop_open,
            scrapping_open=row.scrapping_open,
            source=_source(row),
            source_edition=row.sheet.edition,
            row=row,
        )
        log(actor, position, "set limits", f"{dimension}, edition {made.edition}: {made}")
        refresh(position.pk)
        return made


def attach_to_all(row: SheetRow, positions: Iterable[Position], actor, **given) -> list[Limits]:
    """To all of these places or to none. The one that will not have it is named."""
    made = []
    with writing.one_transaction():
        for position in positions:
            try:
                made.append(attach(row, position, actor, **given))
            except Refused as refused:
                raise Refused(*(_at(position, refusal) for refusal in refused.refusals)) from None
    return made


def attach_to_fits(row: SheetRow, pairs: Iterable, actor) -> list:
    """The clearance that a row allows, as a new edition of what each pair may be. What is wanted stays."""
    writing.allow(actor, "edit limits")
    most = row.shop_upper if row.shop_upper is not None else row.scrapping_upper
    if row.kind != How.CLEARANCE or most is None or row.shop_open or row.scrapping_open:
        raise Refused(Refusal("kind", f"{row.item}: it is no clearance that a pair may have.", "Choose another row."))
    made = []
    with writing.one_transaction():
        for fit in pairs:
            newest = fit.editions.first()
            if most < newest.most:
                wanted = f"{fit}: wanted are up to {in_both(newest.most, newest.unit)}, more than the row allows."
                raise Refused(Refusal("shop", wanted, "Set its limits by hand."))
            made.append(
                fits.set_fit_limits(
                    fit, actor, kind=newest.kind, least=newest.least, most=newest.most, shop_least=newest.shop_least,
                    shop_most=most, scrapping_most=row.scrapping_upper, unit=newest.unit, code=newest.code,
                    source=_source(row), source_edition=row.sheet.edition,
                )
            )  # fmt: skip
    return made


def _at(position, refusal: Refusal) -> Refusal:
    return refusal if refusal.code in ("role", "original", "gauge", "kind") else Refusal(
        refusal.code, f"{position.words}: {refusal.sentence}", refusal.cure
    )  # fmt: skip


def _limits(row, original, gauge_mm) -> dict:
    code, label = ASKED.get(row.kind, ("kind", row.item))
    least = ORIGINAL_OVER_MM.get(row.clause)
    if least and original and original.nominal_mm <= least:
        over = f"Original size: the clause is for more than {in_both(least, row.unit)}."
        raise Refused(Refusal("original", over, "Choose the clause that is for this axle."))
    try:
        return limits_of_row(
            row.kind, {name: getattr(row, name) for name in LIMITS}, original=original, gauge_mm=gauge_mm
        )
    except ValueError as error:
        raise Refused(Refusal(code, f"{label}: {error}", "Or set the limits by hand.")) from None


def _with_the_drawing(dimension, fields: dict, drawing: str) -> tuple[dict, str]:
    newest = dimension.editions.first()
    if newest and "new_lower" not in fields and "new_upper" not in fields:
        kept = {side: getattr(newest, side) for side in ("new_lower", "new_upper")}
        return {side: value for side, value in kept.items() if value is not None} | fields, newest.drawing
    return fields, drawing


def _check(dimension, row, fields):
    try:
        PlainLimits(**fields, **openness(row), unit=dimension.unit, wears=dimension.wears)
    except ValueError as error:
        raise Refused(Refusal("limits", str(error), "Set its limits by hand, or correct its drawing size.")) from None


def _source(row: SheetRow) -> str:
    return ", ".join(filter(None, (row.sheet.name, row.clause)))[:200]
