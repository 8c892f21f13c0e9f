"""Writers of locomotives and overhauls."""

import re

from core.domain.refusals import Refusal, Refused
from core.models.longest import longest
from parts.actions import writing
from parts.actions.change import Follows
from parts.actions.perform import carry_out, followers
from parts.actions.refresh import refresh_where
from parts.consumables.writers import want_all
from parts.domain.hold_templates import Regime
from parts.domain.plain import capital, several
from parts.domain.structure import LocomotiveSpec, PlannedPosition, plan
from parts.domain.words import Need, State
from parts.holds.held import held_closing
from parts.holds.writers import add_starting
from parts.models import Component, GoesOnAfter, Location, LocationKind, Locomotive, Overhaul, Position, Subassembly
from parts.queries.measured import measured

COPIED = (
    "name",
    "side",
    "axle",
    "end",
    "inside",
    "drawing",
    "material",
    "quantity",
    "safety_critical",
    "pressure_part",
    "crack_check",
    "material_papers",
    "needed_first",
    "made_to_suit",
    "matched",
    "carries_identity",
    "caution",
    "source",
)


def new_locomotive(actor, *, name: str, slug: str, spec: LocomotiveSpec | None = None, **described) -> Locomotive:
    """A locomotive with its first overhaul, its own location and, from a spec, its whole starting structure with the
    dimensions that matter; `named_dimensions=False` leaves those to be added by hand. With a boiler it has the hold
    points that `regime` starts with (by default as its words are, British or American) and a survey for asbestos;
    `starting_holds=False` leaves them all out."""
    writing.allow(actor, "edit structure")
    return make_locomotive(actor, name=name, slug=slug, spec=spec, **described)


def make_locomotive(
    actor,
    *,
    name: str,
    slug: str,
    spec: LocomotiveSpec | None = None,
    named_dimensions: bool = True,
    starting_holds: bool = True,
    regime: str = "",
    **described,
) -> Locomotive:
    """As `new_locomotive`, for a command: whoever can run one on this machine may make one."""
    rules = regime_of(regime, american=described.get("american", False))
    planned = plan(spec) if spec else None
    name, slug = " ".join(name.split()), slug.strip()
    if not name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Name the locomotive."))
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug):
        raise Refused(
            Refusal("slug", f"Short name: “{slug}”.", "Use small letters, digits and hyphens, such as fern-4.")
        )
    if Locomotive.objects.filter(slug=slug).exists():
        raise Refused(Refusal("slug", f"Short name: “{slug}” is taken.", "Choose another."))
    troubles = [
        Refusal(
            field, f"{capital(field.replace('_', ' '))}: {len(text)} characters are too many.", f"Shorten it to {most}."
        )
        for field, text in {"name": name, "slug": slug, **described}.items()
        if isinstance(text, str) and len(text) > (most := longest(Locomotive, field))
    ]
    if troubles:
        raise Refused(*troubles)
    with writing.one_transaction():
        locomotive = Locomotive.objects.create(
            name=name, slug=slug, wheels=str(spec.wheels) if spec else "", **described
        )
        overhaul = Overhaul.objects.create(locomotive=locomotive, number=1, opened=writing.today())
        make_location(locomotive)
        writing.log(actor, "new locomotive", locomotive=locomotive, overhaul=overhaul, remark=name)
        if planned:
            made = _build(locomotive, planned)
            want_all(locomotive, [(made[row.key], row.consumables) for row in planned.positions])
            if named_dimensions and spec:
                measured.name_dimensions([(made[row.key], row.dimensions) for row in planned.positions], spec.unit)
            if starting_holds:
                add_starting(overhaul, actor, rules)
            refresh_where({"locomotive": locomotive})
        return locomotive


def regime_of(word: str, *, american: bool) -> Regime:
    """The rules that a boiler starts under; said nothing, the country of the locomotive's words."""
    if word and word not in list(Regime):
        raise Refused(
            Refusal("regime", f"Boiler rules: “{word}” is not known.", f"Choose one of: {', '.join(Regime)}.")
        )
    return Regime(word) if word else Regime.UNITED_STATES if american else Regime.UNITED_KINGDOM


def make_location(locomotive: Locomotive) -> Location:
    """Where fitted pieces lie: the locomotive itself."""
    name = f"On {locomotive.name}"
    if Location.objects.filter(parent=None, name__iexact=name).exists():
        name = f"{name} ({locomotive.slug})"
    return Location.objects.create(name=name, path=name, kind=LocationKind.LOCOMOTIVE, locomotive=locomotive)


def _build(locomotive: Locomotive, planned) -> dict[str, Position]:
    """Its subassemblies, order and positions; the positions by their keys."""
    subs: dict[str, Subassembly] = {}
    for row in planned.subassemblies:
        subs[row.code] = Subassembly.objects.create(
            locomotive=locomotive,
            code=row.code,
            name=row.name,
            sequence=row.sequence,
            caution=row.caution,
            parent=subs[row.parent] if row.parent else None,
        )
    orders = [
        GoesOnAfter(subassembly=subs[row.code], after=subs[code])
        for row in planned.subassemblies
        for code in row.goes_on_after
    ]
    made: dict[str, Position] = {}
    waiting = list(planned.positions)
    while waiting:  # outer places before the inner ones that name them
        batch = [row for row in waiting if row.part_of is None or row.part_of in made]
        rows = [_position(locomotive, subs, made, row) for row in batch]
        for row, position in zip(batch, Position.objects.bulk_create(rows, batch_size=500), strict=True):
            made[row.key] = position
        waiting = [row for row in waiting if row.key not in made]
    orders += [
        GoesOnAfter(position=made[row.key], after=subs[code]) for row in planned.positions for code in row.goes_on_after
    ]
    GoesOnAfter.objects.bulk_create(orders)
    return made


def _position(locomotive, subs, made, row: PlannedPosition) -> Position:
    return Position(
        locomotive=locomotive,
        subassembly=subs[row.subassembly],
        part_of=made[row.part_of] if row.part_of else None,
        surfaces=list(row.surfaces),
        calls_for=list(row.calls_for),
        need=Need.STRIP.value,
        **{field: getattr(row, field) for field in COPIED},
    )


def open_overhaul(locomotive: Locomotive, actor, reason: str) -> Overhaul:
    """Another time in the works: every fitted piece is *in place* again, and has been run since it was looked at."""
    writing.allow(actor, "edit structure")
    if locomotive.open_overhaul():
        raise Refused(
            Refusal("open", "An overhaul is open already.", "Close it when the locomotive returns to service.")
        )
    with writing.one_transaction():
        number = locomotive.overhauls.count() + 1
        overhaul = Overhaul.objects.create(
            locomotive=locomotive, number=number, opened=writing.today(), reason=reason.strip()
        )
        writing.log(actor, "open overhaul", locomotive=locomotive, overhaul=overhaul, remark=reason)
        fitted = Component.objects.filter(locomotive=locomotive, state=State.REFITTED)
        carry_out(followers([Follows(word="open overhaul", piece=piece) for piece in fitted], actor), [], actor)
        refresh_where({"locomotive": locomotive})
        return overhaul


def close_overhaul(overhaul: Overhaul, actor) -> None:
    """The locomotive returns to service. Places still open are named; nothing here certifies it."""
    writing.allow(actor, "edit structure")
    there = overhaul.locomotive.positions.filter(retired=False)
    still_open, in_doubt = there.filter(standing__in=("ready", "blocked")).count(), there.filter(need="recheck").count()
    trouble = []
    if still_open:
        sentence = f"{several(still_open, 'place')} {'is' if still_open == 1 else 'are'} not refitted."
        trouble.append(Refusal("not-complete", sentence, "Refit them, or mark them as not required."))
    if in_doubt:
        sentence = f"{several(in_doubt, 'refitted place')} {'is' if in_doubt == 1 else 'are'} in doubt."
        trouble.append(Refusal("in-doubt", sentence, "Have a signed look find them sound."))
    trouble += held_closing(overhaul)
    if trouble:
        raise Refused(*trouble)
    with writing.one_transaction():
        overhaul.closed = writing.today()
        overhaul.save(update_fields=["closed"])
        writing.log(actor, "close overhaul", locomotive=overhaul.locomotive, overhaul=overhaul)
