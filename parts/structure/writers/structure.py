"""Writers of the structure: subassemblies, positions, order of assembly. A position with history is only retired."""

from collections.abc import Container

from django.db import IntegrityError, transaction
from django.db.models import Max, ProtectedError
from django.utils.text import slugify

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.actions.emptiness import is_full
from parts.actions.refresh import refresh
from parts.consumables.in_hand import bring_back
from parts.domain.sequence import loop_sentence
from parts.domain.words import Kind, Method, Side, State
from parts.models import GoesOnAfter, Locomotive, Position, Subassembly
from parts.queries.assembly_order import ordered_places_of, positions_with_order, subs_of
from parts.structure.actions import EDITABLE


def add_subassembly(
    locomotive: Locomotive, name: str, actor, parent: Subassembly | None = None, after=()
) -> Subassembly:
    """A new group, at the end of the page, going on after the given ones."""
    writing.allow(actor, "edit structure")
    name = " ".join(name.split())
    if not name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Name the subassembly."))
    beside = locomotive.subassemblies.filter(parent=parent, retired=False, name__iexact=name)
    if beside.exists():
        raise Refused(Refusal("name", f"Name: there is a {name} here already.", "Choose another name."))
    with writing.one_transaction():
        last = locomotive.subassemblies.aggregate(last=Max("sequence"))["last"] or 0
        subassembly = Subassembly.objects.create(
            locomotive=locomotive,
            parent=parent,
            name=name,
            code=free_code(locomotive, name, parent),
            sequence=last + 10,
        )
        writing.log(actor, "add subassembly", locomotive=locomotive, subassembly=subassembly, remark=name)
        set_order(subassembly, after, actor)
        return subassembly


def remove_subassembly(subassembly: Subassembly, actor) -> None:
    """An empty one is taken away; one with places or parts in it is refused."""
    writing.allow(actor, "edit structure")
    if subassembly.positions.filter(retired=False).exists() or subassembly.parts.filter(retired=False).exists():
        raise Refused(
            Refusal("not-empty", f"{subassembly.name} still has places or parts in it.", "Take those away first.")
        )
    with writing.one_transaction():
        GoesOnAfter.objects.filter(subassembly=subassembly).delete()
        GoesOnAfter.objects.filter(after=subassembly).delete()
        writing.log(actor, "remove subassembly", locomotive=subassembly.locomotive, subassembly=subassembly)
        subassembly.retired = True
        subassembly.save(update_fields=["retired"])


def free_code(locomotive: Locomotive, name: str, parent: Subassembly | None = None) -> str:
    """A slug that no subassembly of this locomotive has."""
    return code_among(set(locomotive.subassemblies.values_list("code", flat=True)), name, parent)


def code_among(taken: Container[str], name: str, parent: Subassembly | None) -> str:
    """A slug of the name that is not taken, led by its parent's where the name alone is."""
    base = slugify(name)[:60].strip("-") or "subassembly"
    if base in taken and parent is not None:
        base = f"{parent.code}-{base}"[:75].strip("-")
    code, number = base, 2
    while code in taken:
        code, number = f"{base}-{number}", number + 1
    return code


def set_order(thing: Subassembly | Position, after, actor) -> None:
    """What a subassembly, or one position in its own right, goes on after. A loop is refused, and named."""
    writing.allow(actor, "edit structure")
    field = "subassembly" if isinstance(thing, Subassembly) else "position"
    locomotive = thing.locomotive
    with writing.one_transaction():
        old = set(thing.goes_on_after.values_list("after_id", flat=True))
        new = {other.pk for other in after}
        if old == new:
            return
        thing.goes_on_after.all().delete()
        if (thing.pk if isinstance(thing, Subassembly) else thing.subassembly_id) in new:
            whom = "itself" if isinstance(thing, Subassembly) else "the subassembly that it belongs to"
            raise Refused(Refusal("order", f"Goes on after: {thing} cannot go on after {whom}.", "Leave it out."))
        GoesOnAfter.objects.bulk_create([GoesOnAfter(after_id=pk, **{field: thing}) for pk in sorted(new)])
        loop = loop_sentence(subs_of(locomotive.pk), ordered_places_of(positions_with_order(locomotive.pk)))
        if loop:
            raise Refused(
                Refusal(
                    "loop",
                    f"Goes on after: that makes a loop. {loop}.",
                    "Leave one out, or mark a place as not needed first.",
                )
            )
        writing.log(
            actor,
            "set order",
            locomotive=locomotive,
            data={"after": sorted(new), "was": sorted(old)},
            subassembly=thing if isinstance(thing, Subassembly) else None,
            position=thing if isinstance(thing, Position) else None,
        )


def add_position(subassembly: Subassembly, actor, *, part_of: Position | None = None, after=(), **fields) -> Position:
    """A new place that must be filled."""
    writing.allow(actor, "edit structure")
    position = Position(
        locomotive=subassembly.locomotive, subassembly=subassembly, part_of=part_of, source="added here"
    )
    _fill(position, fields)
    with writing.one_transaction():
        _save(position)
        writing.log(actor, "add position", locomotive=position.locomotive, position=position)
        if after:
            set_order(position, after, actor)
        refresh(position.pk)
        return position


SAME = object()
"""Leaves the built-up piece that a place is part of as it is; None takes the place out of it."""


def edits_of(position: Position):
    """The events that change what the form of a place shows."""
    return Event.objects.about("place", position.pk).filter(action__in=("edit position", "set order"))


def edit_position(
    position: Position, actor, *, seen=None, after=None, part_of=SAME, subassembly: Subassembly | None = None, **fields
) -> None:
    """Change what a place says of itself, and the subassembly that it belongs to; the event keeps what it said before.
    The places inside it go with it."""
    writing.allow(actor, "edit structure")
    with writing.one_transaction():
        writing.hold(position)
        writing.not_overtaken(edits_of(position), seen)
        old_outer = position.part_of_id
        moved = _moved(position, subassembly)
        if moved and (part_of is SAME or getattr(part_of, "pk", None) == old_outer):
            part_of = None  # what it was part of stays behind
        changed = moved | _described(position, part_of, fields)
        if changed:
            _save(position, list(changed))
            _take_along(position)
            writing.log(actor, "edit position", locomotive=position.locomotive, position=position, data=changed)
        if after is not None:
            set_order(position, after, actor)
        refresh(position.pk, old_outer)


def _moved(position: Position, subassembly: Subassembly | None) -> dict:
    if subassembly is None or subassembly.pk == position.subassembly_id:
        return {}
    if subassembly.locomotive_id != position.locomotive_id or subassembly.retired:
        raise Refused(Refusal("subassembly", "Belongs to: that one is not in use here.", "Choose another."))
    was, position.subassembly = position.subassembly, subassembly
    return {"subassembly": [was.name, subassembly.name]}


def _take_along(position: Position) -> None:
    """The places inside it, however deep, belong where it belongs."""
    for inner in position.inner.exclude(subassembly=position.subassembly):
        inner.subassembly = position.subassembly
        _save(inner, ["subassembly"])
        _take_along(inner)


def _described(position: Position, part_of, fields: dict) -> dict:
    """Fill the row in memory; what changed by it, from what to what."""
    before, old_outer = {field: getattr(position, field) for field in EDITABLE}, position.part_of
    if part_of is not SAME and part_of != old_outer:
        _may_be_part_of(position, part_of)
        position.part_of = part_of
    _fill(position, fields)
    changed = {name: [old, getattr(position, name)] for name, old in before.items() if old != getattr(position, name)}
    if position.part_of != old_outer:
        changed["part_of"] = [getattr(old_outer, "words", ""), getattr(position.part_of, "words", "")]
    return changed


def _may_be_part_of(position, outer):
    """A piece that is fitted stays where it is, and nothing is part of itself."""
    if position.pieces.exclude(fitted=None).exists():
        raise Refused(
            Refusal("part_of", f"Part of: a piece is fitted in {position.words}.", "Strip or take it off first.")
        )
    while outer is not None:
        if outer.pk == position.pk:
            raise Refused(Refusal("part_of", "Part of: that one is inside this place.", "Choose one outside it."))
        outer = outer.part_of


def _delete_or_retire(position: Position) -> str:
    if not Event.objects.about("place", position.pk).exists():
        try:
            with transaction.atomic():
                position.delete()
                return "deleted"
        except ProtectedError:
            pass
    position.retired = True
    position.standing, position.need = "not required", ""  # the counts of readiness read the standing alone
    position.save(update_fields=["retired", "standing", "need"])
    return "retired"


def remove_position(position: Position, actor) -> str:
    """Take a place away: deleted when nothing ever happened there, retired when it has history. Says which."""
    writing.allow(actor, "edit structure")
    if position.pieces.exclude(state=State.WITHDRAWN).exists() or position.inner.filter(retired=False).exists():
        raise Refused(
            Refusal(
                "in-use",
                f"{position.words}: pieces or places of its own are still there.",
                "Give those another place first.",
            )
        )
    with writing.one_transaction():
        writing.log(
            actor,
            "remove position",
            locomotive=position.locomotive,
            subassembly=position.subassembly,
            remark=position.words,
            data={"place": position.pk},
        )
        bring_back([position.pk], actor, position.words)
        outer, became = position.part_of_id, _delete_or_retire(position)
        refresh(outer)
        return became


def set_known_empty(position: Position, actor, evidence: str) -> None:
    """The place was looked at and there is nothing in it: by whom, on what evidence."""
    writing.allow(actor, "known empty")
    if not evidence.strip():
        raise Refused(
            Refusal(
                "evidence", "Evidence: nothing was written.", "Say how it is known: holes, a drawing, a photograph."
            )
        )
    with writing.one_transaction():
        writing.hold(position)
        if is_full(position):
            raise Refused(Refusal("filled", f"{position.words} is filled.", "Withdraw its piece first."))
        position.known_empty_on, position.known_empty_by, position.evidence = writing.today(), actor, evidence.strip()
        position.save(update_fields=["known_empty_on", "known_empty_by", "evidence"])
        writing.log(actor, "known empty", locomotive=position.locomotive, position=position, remark=evidence)
        refresh(position.pk)


def _fill(position, fields):
    unknown = set(fields) - set(EDITABLE)
    if unknown:
        raise TypeError(f"not editable: {unknown}")
    for field, value in fields.items():
        setattr(position, field, " ".join(value.split()) if isinstance(value, str) and field != "notes" else value)
    trouble = [
        refusal
        for refusal in (
            None if position.name else Refusal("name", "Position: nothing was written.", "Name the place."),
            None
            if position.side in list(Side)
            else Refusal("side", f"Side: “{position.side}”.", "Write LH, RH or nothing."),
            None
            if position.crack_check in ("", *Method)
            else Refusal(
                "crack_check", f"Crack check: “{position.crack_check}”.", f"Choose one of: {', '.join(Method)}."
            ),
            None
            if set(position.calls_for) <= set(Kind)
            else Refusal(
                "calls_for", "Calls for: an examination that is not known.", f"Choose from: {', '.join(Kind)}."
            ),
            None if position.quantity >= 1 else Refusal("quantity", "Quantity: less than 1.", "Write 1 or more."),
            None
            if position.part_of_id is None or position.part_of.subassembly_id == position.subassembly_id
            else Refusal("part_of", "Part of: a place in another subassembly.", "Choose one in the same subassembly."),
        )
        if refusal
    ]
    if trouble:
        raise Refused(*trouble)


def _save(position, fields=None):
    """The database knows a place by subassembly, name, side, axle and end, and how many pieces are in it."""
    filled = sum(piece.quantity for piece in position.pieces.live()) if position.pk else 0
    if filled > position.quantity:
        raise Refused(Refusal("quantity", f"Quantity: {filled} pieces are in it already.", f"Write {filled} or more."))
    try:
        with transaction.atomic():
            position.save(update_fields=fields)
    except IntegrityError:
        raise Refused(
            Refusal(
                "position",
                f"Position: {position.subassembly} has “{position.words}” already.",
                "Tell them apart by side, axle or end.",
            )
        ) from None
