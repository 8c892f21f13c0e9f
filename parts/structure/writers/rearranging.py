"""Subassemblies renamed, put under another or in another order."""

from django.db.models import Max

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.domain.sequence import loop_sentence
from parts.models import Subassembly
from parts.queries.assembly_order import ordered_places_of, positions_with_order, subs_of

STEP = 10
SAME = object()
"""Leaves it as it is."""


def edits_of(subassembly: Subassembly):
    """The events that change what its form shows."""
    return Event.objects.about("subassembly", subassembly.pk).filter(action="edit subassembly")


def before_it(subassembly: Subassembly) -> Subassembly | None:
    """The one that stands just before it, of those beside it."""
    found = list(_beside(subassembly, subassembly.parent))
    at = [sub.pk for sub in found].index(subassembly.pk)
    return found[at - 1] if at else None


def edit_subassembly(subassembly: Subassembly, actor, *, name: str, parent=SAME, follows=SAME, seen=None) -> None:
    """Its code stays, since papers and links name it by that. `follows`: what it stands after, None for the first."""
    writing.allow(actor, "edit structure")
    with writing.one_transaction():
        writing.hold(subassembly)
        writing.not_overtaken(edits_of(subassembly), seen)
        changed = _renamed(subassembly, name)
        if parent is not SAME and getattr(parent, "pk", None) != subassembly.parent_id:
            changed["part of"] = [_name(subassembly.parent), _name(parent)]
            _under(subassembly, parent)
        elif follows is not SAME and follows != (was := before_it(subassembly)):
            changed["stands after"] = [_name(was), _name(follows)]
            _put_after(subassembly, follows)
        not_twice(subassembly)
        if changed:
            locomotive = subassembly.locomotive
            writing.log(actor, "edit subassembly", locomotive=locomotive, subassembly=subassembly, data=changed)
            subassembly.save(update_fields=["name", "parent", "sequence"])
            no_loop(subassembly)


def not_twice(subassembly: Subassembly) -> None:
    beside = _beside(subassembly, subassembly.parent).filter(name__iexact=subassembly.name).exclude(pk=subassembly.pk)
    if beside.exists():
        sentence = f"Name: there is a {subassembly.name} here already."
        raise Refused(Refusal("name", sentence, "Choose another name, or merge the two."))


def no_loop(subassembly: Subassembly) -> None:
    locomotive = subassembly.locomotive_id
    if loop := loop_sentence(subs_of(locomotive), ordered_places_of(positions_with_order(locomotive))):
        raise Refused(Refusal("loop", f"The order of assembly contradicts itself then. {loop}.", "Change that first."))


def _renamed(subassembly: Subassembly, name: str) -> dict[str, list]:
    name, was = " ".join(name.split()), subassembly.name
    if not name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Name the subassembly."))
    subassembly.name = name
    return {"name": [was, name]} if name != was else {}


def _under(subassembly: Subassembly, parent: Subassembly | None) -> None:
    above = parent
    while above is not None:
        if above.pk == subassembly.pk:
            raise Refused(Refusal("parent", f"Part of: {parent} is part of it.", "Choose one outside it."))
        above = above.parent
    last = _beside(subassembly, parent).aggregate(last=Max("sequence"))["last"] or 0
    subassembly.parent, subassembly.sequence = parent, last + STEP


def _put_after(subassembly: Subassembly, other: Subassembly | None) -> None:
    found = [sub for sub in _beside(subassembly, subassembly.parent) if sub.pk != subassembly.pk]
    if other is not None and other not in found:
        raise Refused(Refusal("follows", f"Stands after: {other} is not beside it.", "Choose one that is."))
    at = found.index(other) + 1 if other else 0
    found.insert(at, subassembly)
    for number, sub in enumerate(found, 1):
        sub.sequence = number * STEP
    Subassembly.objects.bulk_update(found, ["sequence"])


def _beside(subassembly: Subassembly, parent: Subassembly | None):
    there = Subassembly.objects.filter(locomotive=subassembly.locomotive_id, parent=parent, retired=False)
    return there.order_by("sequence", "name", "id")


def _name(subassembly: Subassembly | None) -> str:
    return subassembly.name if subassembly else ""
