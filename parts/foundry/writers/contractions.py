"""Writers of the figures: contractions of metals and densities. None is edited: a better one takes its place, or it is
struck out with the reason."""

from fractions import Fraction

from django.utils import timezone

from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.common.jobs import too_long
from parts.models import Contraction, Density, StruckOut
from parts.models.contractions import Figure

MOST_RATIO = Fraction(1, 20)
LIGHTEST, HEAVIEST = 50, 23_000  # kg/m³: balsa, and platinum metals


def add_contraction(
    actor, *, metal: str, ratio: Fraction | None, as_written: str, source: str, replaces: Contraction | None = None,
    **more,
) -> Contraction:  # fmt: skip
    """Enter what a source says of a metal. Without a ratio it is a range, kept as it is written."""
    entered = {"metal": _tidy(metal).lower(), "as_written": _tidy(as_written)}
    if ratio is not None and not 0 <= ratio <= MOST_RATIO:
        raise Refused(Refusal("ratio", "Contraction: more than any metal contracts.", "Write it as 1/8 in per foot."))
    return _add(Contraction, actor, replaces, source, ratio="" if ratio is None else str(ratio), **entered, **more)


def add_density(
    actor, *, material: str, kg_m3: Fraction, as_written: str, source: str, replaces: Density | None = None, **more
) -> Density:
    if not LIGHTEST <= kg_m3 <= HEAVIEST:
        cure = "Write kilograms per cubic metre: cast iron is about 7200."
        raise Refused(Refusal("kg_m3", "Density: no solid material is like that.", cure))
    entered = {"material": _tidy(material).lower(), "as_written": _tidy(as_written)}
    return _add(Density, actor, replaces, source, kg_m3=str(kg_m3), **entered, **more)


def strike_out(figure: Figure, actor, *, why: str) -> StruckOut:
    """It stands no longer, and nothing takes its place. It stays readable, with the reason."""
    writing.allow(actor, "edit contractions")
    if not _tidy(why):
        raise Refused(Refusal("why", "Why: nothing was written.", "Say what is wrong with it."))
    with writing.one_transaction():
        _stands(figure)
        row = StruckOut(by=actor, at=timezone.now(), why=_tidy(why), **{_noun(figure): figure})
        _fits(row)
        row.save()
        writing.log(actor, "strike out figure", remark=row.why, data={_noun(figure): figure.pk, "figure": str(figure)})
        return row


def may_edit(actor) -> bool:
    return may(actor.role_names, "edit contractions")


def _add(model, actor, replaces, source, *, edition="", note="", from_memory=False, **entered):
    writing.allow(actor, "edit contractions")
    row = model(
        by=actor, at=timezone.now(), replaces=replaces, source=_tidy(source), edition=_tidy(edition), note=_tidy(note),
        from_memory=from_memory, **entered,
    )  # fmt: skip
    lacking = [
        Refusal(field, f"{label}: nothing was written.", cure)
        for field, label, cure in (
            (model.BY, "Of what", "Name the metal or material."),
            ("as_written", "As the source writes it", "Write the figure and its unit as printed there."),
            ("source", "Source", "Say where the figure stands; what you remember is ticked as from memory."),
        )
        if not getattr(row, field)
    ]
    if lacking:
        raise Refused(*lacking)
    with writing.one_transaction():
        if replaces is not None:
            _stands(replaces)
        _fits(row)
        row.save()
        data = {_noun(row): row.pk, "figure": str(row)} | ({"replaces": replaces.pk} if replaces else {})
        writing.log(actor, "enter figure", remark=row.note, data=data)
        return row


def _stands(figure):
    figure = type(figure).objects.select_for_update(of=("self",)).get(pk=figure.pk)
    if hasattr(figure, "better") or hasattr(figure, "struck"):
        raise Refused(
            Refusal("stale", "Somebody struck that figure out, or replaced it, before you.", "Look at the list again.")
        )


def _fits(row):
    if found := too_long(row):
        raise Refused(*found)


def _noun(figure) -> str:
    return "contraction" if isinstance(figure, Contraction) else "density"


def _tidy(text: str) -> str:
    return " ".join(text.split())
