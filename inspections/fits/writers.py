"""Writing which sizes run or press together, and the clearance allowed, in editions."""

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.refresh import refresh

from ..domain.fit_limits import KINDS
from ..domain.fit_limits import FitLimits as PlainLimits
from ..limits.writers import not_overtaken
from ..models import Dimension, Fit, FitLimits


def add_fit(actor, *, name: str, hole: Dimension, shaft: Dimension, **limits) -> Fit:
    """A pair of sizes with its limits: `limits` as set_fit_limits takes them."""
    writing.allow(actor, "edit limits")
    with writing.one_transaction():
        trouble = list(_pair_trouble(name, hole, shaft)) + list(_limits_trouble(**limits))
        if trouble:
            raise Refused(*trouble)
        fit = Fit.objects.create(name=name.strip(), hole=hole, shaft=shaft)
        _log(actor, fit, "add fit")
        _add_edition(fit, actor, **limits)
        refresh(hole.position_id, shaft.position_id)
        return fit


def add_fits(actor, proposed, **limits) -> list[Fit]:
    """Proposed pairs (domain/pairing.py), all of them with the same limits, or none."""
    proposed = list(proposed)
    sizes = Dimension.objects.select_related("position").in_bulk(
        [pk for one in proposed for pk in (one.hole, one.shaft)]
    )
    with writing.one_transaction():
        return [add_fit(actor, name=x.name, hole=sizes[x.hole], shaft=sizes[x.shaft], **limits) for x in proposed]


def set_fit_limits(fit: Fit, actor, *, seen: int | None = None, **limits) -> FitLimits:
    """A new edition: kind, least, most, shop_least, shop_most, scrapping_most (mm, below zero is interference), unit,
    code, source, source_edition. `seen` is the edition that the form was begun from."""
    writing.allow(actor, "edit limits")
    with writing.one_transaction():
        not_overtaken(fit.editions.select_for_update(), seen)
        trouble = list(_limits_trouble(**limits))
        if trouble:
            raise Refused(*trouble)
        made = _add_edition(fit, actor, **limits)
        _log(actor, fit, "set fit limits")
        refresh(fit.hole.position_id, fit.shaft.position_id)
        return made


def retire_fit(fit: Fit, actor) -> None:
    writing.allow(actor, "edit limits")
    with writing.one_transaction():
        fit.retired = True
        fit.save(update_fields=["retired"])
        _log(actor, fit, "retire fit")
        refresh(fit.hole.position_id, fit.shaft.position_id)


def _add_edition(
    fit, actor, *, kind, least, most, unit, source, source_edition, shop_least=None, shop_most=None,
    scrapping_most=None, code="",
):  # fmt: skip
    newest = fit.editions.order_by("-edition").first()
    return FitLimits.objects.create(
        fit=fit, edition=newest.edition + 1 if newest else 1, kind=kind, least=least, most=most, shop_least=shop_least,
        shop_most=shop_most, scrapping_most=scrapping_most, unit=unit, code=code.strip(), source=source.strip(),
        source_edition=source_edition.strip(), set_by=actor, set_at=timezone.now(),
    )  # fmt: skip


def _pair_trouble(name, hole: Dimension, shaft: Dimension):
    if not name.strip():
        yield Refusal("name", "Name: nothing was written.", "Say what runs in what: journal in brass.")
    if hole.retired or shaft.retired:
        yield Refusal("hole", "One of the sizes is no longer measured.", "Choose sizes that are in use.")
    if hole.position_id == shaft.position_id:
        yield Refusal("hole", "Both sizes are on one place.", "A fit is between the pieces of two places.")
    elif hole.position.locomotive_id != shaft.position.locomotive_id:
        yield Refusal("hole", "The two places are on different locomotives.", "Choose both on one locomotive.")
    if Fit.objects.in_use().filter(hole=hole, shaft=shaft).exists():
        yield Refusal("hole", "This fit is there already.", "Add an edition of its limits instead.")


def _limits_trouble(
    *, kind, least, most, unit, source, source_edition, shop_least=None, shop_most=None, scrapping_most=None, code=""
):
    if kind not in KINDS:
        yield Refusal("kind", "Kind: none chosen.", "Say whether it runs or is pressed in.")
    if unit not in ("mm", "in"):
        yield Refusal("unit", "Unit: none chosen.", "Choose mm or in.")
    if least is None or most is None:
        yield Refusal("least", "Clearance wanted: not both given.", "Give the least and the most.")
        return
    if least > most:
        yield Refusal("least", "Clearance wanted: the least is more than the most.", "Change them round.")
        return
    if (shop_least is not None and shop_least > least) or (shop_most is not None and shop_most < most):
        yield Refusal(
            "shop_most",
            "Clearance in service: narrower than as new.",
            "The clearance in service must include the clearance as new.",
        )
    elif scrapping_most is not None and scrapping_most < (most if shop_most is None else shop_most):
        sentence = "Give a scrapping clearance that is more than the clearance in service."
        yield Refusal("scrapping_most", sentence, "Or leave it blank.")
    elif kind in KINDS and unit in ("mm", "in"):
        try:
            PlainLimits(
                least=least, most=most, shop_least=shop_least, shop_most=shop_most, scrapping_most=scrapping_most,
                kind=kind, unit=unit,
            )  # fmt: skip
        except ValueError as error:
            yield Refusal("least", f"Clearance wanted: {str(error)[:1].lower()}{str(error)[1:]}", "Correct it.")
    if not source.strip():
        yield Refusal(
            "source", "Source: nothing was written.", "A limit says where it comes from: drawing, sheet, law."
        )
    if not source_edition.strip():
        yield Refusal("source_edition", "Edition: nothing was written.", "Give the issue, date or edition.")


def _log(actor, fit: Fit, action: str):
    writing.log(
        actor, action, locomotive_id=fit.hole.position.locomotive_id, position_id=fit.hole.position_id, remark=fit.name
    )
