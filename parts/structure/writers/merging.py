"""Two places, or two subassemblies, that are one: the old leads to the new from then on.

What can still be changed goes to the new one. What is frozen (signed records, decisions, evidence) goes on naming the
old one; whatever is in neither list refuses, so that a new table is thought of.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Model, Q

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.refresh import refresh, refresh_where
from parts.consumables.in_hand import bring_back
from parts.domain.plain import listed
from parts.mistakes.sorts import hanging_but
from parts.models import Component, Conflict, GoesOnAfter, Position, Subassembly

from .rearranging import no_loop

FROZEN = frozenset(
    {"Examination.position", "Decision.position", "Evidence.position", "BoxedPiece.position", "Conflict.position",
     "BoxingUp.subassembly", "Position.merged_into", "Subassembly.merged_into"}
)  # fmt: skip
GOES: dict[type[Model], tuple[str, ...]] = {
    Position: ("Photo.position", "HoldPoint.position", "Renewal.position", "Position.part_of", "Kit.position"),
    Subassembly: (
        "Photo.subassembly",
        "HoldPoint.subassembly",
        "HoldPoint.behind",
        "Kit.subassembly",
        "MachineWork.subassembly",
        "DayJob.chosen_of",
    ),
}
ONCE: dict[type[Model], tuple[str, ...]] = {
    Position: ("GoesOnAfter.position", "Earmark.position", "ConsumableUse.position",
               "Pattern_positions.position", "Drawing_positions.position"),
    Subassembly: ("GoesOnAfter.subassembly", "GoesOnAfter.after"),
}  # fmt: skip
"""What names each thing once: a double is left with the old one."""
WITH_CARE = frozenset(
    {"Component.place", "Component.came_off", "Component.fitted", "Position.subassembly", "Subassembly.parent",
     "Pattern.positions", "Drawing.positions", "Guess.subassembly"}
)  # fmt: skip


def merge_places(old: Position, new: Position, actor) -> None:
    """What is in the old place is in the new one. Raises Refused where that would not fit."""
    writing.allow(actor, "edit structure")
    with writing.one_transaction():
        writing.hold(old)
        writing.hold(new)
        _may_merge(old, new)
        if old.pk in _around(new) or new.pk in _around(old):
            raise Refused(Refusal("into", f"One is part of the other: {old.words}, {new.words}.", "Choose another."))
        about = [("piece", pk) for pk in Component.objects.filter(place=old).values_list("pk", flat=True)]
        event = _log(actor, "merge place", old, new, [("place", new.pk), ("place", old.pk), *about])
        _hand_over(old, new)
        bring_back([old.pk], actor, old.words)
        _pieces(old, new, event)
        Conflict.objects.filter(position=old, settled="").update(position=new)
        _retire(old, new)
        refresh(new.pk, old.part_of_id)


def merge_subassemblies(old: Subassembly, new: Subassembly, actor) -> None:
    """Every place and part of the old one belongs to the new one."""
    writing.allow(actor, "edit structure")
    with writing.one_transaction():
        writing.hold(old)
        writing.hold(new)
        _may_merge(old, new)
        if old.pk in new.ids_upwards():
            sentence = f"{new} is part of {old}."
            raise Refused(Refusal("into", sentence, "Put it under another first, or merge the other way round."))
        if both := _in_both(old, new):
            cure = "Merge those places first, or rename one of each."
            raise Refused(Refusal("into", f"Both have: {listed(both[:5])}.", cure))
        _log(actor, "merge subassembly", old, new, [("subassembly", new.pk), ("subassembly", old.pk)])
        _hand_over(old, new)
        old.positions.filter(retired=False).update(subassembly=new)
        old.parts.filter(retired=False).update(parent=new)
        GoesOnAfter.objects.filter(Q(subassembly=old) | Q(after=old)).delete()
        _retire(old, new)
        no_loop(new)
        refresh_where({"subassembly": new})


def _may_merge(old: Any, new: Any) -> None:
    if old.pk == new.pk or old.locomotive_id != new.locomotive_id or new.retired or old.retired:
        raise Refused(Refusal("into", "These two cannot be merged.", "Choose another that is in use."))
    stays = FROZEN | WITH_CARE | set(GOES[type(old)]) | set(ONCE[type(old)])
    if hangs := hanging_but(type(old), [old.pk], stays):
        cure = "Merge the other one into this one instead."
        raise Refused(Refusal("into", f"{old} has {listed(hangs)}, which stay where they are.", cure))


def _around(place: Position) -> set[int]:
    found, outer = set(), place.part_of
    while outer is not None:
        found.add(outer.pk)
        outer = outer.part_of
    return found


def _log(actor, word: str, old, new, about):
    entry = writing.Entry(word=word, about=about, data={"from": str(old), "to": str(new)})
    entry.about += writing.about(locomotive=new.locomotive)
    return writing.write(actor, [entry])[0]


def _hand_over(old: Model, new: Model) -> None:
    relations: Iterable[Any] = type(old)._meta.get_fields(include_hidden=True)
    for relation in relations:
        if not relation.auto_created or relation.concrete:
            continue
        model = relation.related_model
        field = relation.field.name
        name = f"{model.__name__}.{field}"
        if name in GOES[type(old)]:
            with _all_fits(new):
                model._base_manager.filter(**{field: old}).update(**{field: new})
        elif name in ONCE[type(old)]:
            for row in model._base_manager.filter(**{field: old}):
                _unless_there(model, row.pk, field, new)


def _unless_there(model: Any, pk: int, field: str, new: Model) -> None:
    try:
        with transaction.atomic():
            model._base_manager.filter(pk=pk).update(**{field: new})
    except IntegrityError:
        pass  # the new one has it already


@contextmanager
def _all_fits(new: Model) -> Iterator[None]:
    try:
        with transaction.atomic():
            yield
    except IntegrityError:
        cure = "Raise how many go there, or rename what both have, first."
        raise Refused(Refusal("into", f"Not all of it fits into {new}.", cure)) from None


def _pieces(old: Position, new: Position, event) -> None:
    """A fitted piece is fitted in its own place at every moment, so both are written at once."""
    with _all_fits(new):
        fitted = Component.objects.filter(place=old, fitted=old)
        fitted.update(place=new, fitted=new, last_event=event.pk)
        Component.objects.filter(place=old).update(place=new, last_event=event.pk)
    Component._base_manager.filter(came_off=old).update(came_off=new)
    if new.known_empty and Component.objects.live().filter(place=new).exists():
        new.known_empty_on = new.known_empty_by = None
        new.save(update_fields=["known_empty_on", "known_empty_by"])


def _in_both(old: Subassembly, new: Subassembly) -> list[str]:
    def keys(sub: Subassembly) -> dict[tuple[str, ...], str]:
        return {
            tuple(text.casefold() for text in (place.name, place.side, place.axle, place.end)): place.words
            for place in sub.positions.in_use()
        }

    theirs = keys(new)
    places = [words for key, words in keys(old).items() if key in theirs]
    names = {sub.name.casefold() for sub in new.parts.in_use()}
    return places + [sub.name for sub in old.parts.in_use() if sub.name.casefold() in names]


def _retire(old: Any, new: Any) -> None:
    more = {"standing": "not required", "need": ""} if isinstance(old, Position) else {}
    type(old).objects.filter(pk=old.pk).update(retired=True, merged_into=new, **more)
    type(old)._base_manager.filter(merged_into=old).update(merged_into=new)  # one step from every old name to the new
