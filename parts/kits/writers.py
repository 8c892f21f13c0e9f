"""Writers of kits: begun for a subassembly, a place or chosen pieces, each piece taken or missed, and ended."""

from collections.abc import Iterable

from django.db.models import Q
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Person

from ..actions import writing
from ..consumables import in_hand
from ..domain.plain import capital, several
from ..domain.words import State
from ..models import Component, Consumable, Kit, KitLine, Location, LocationKind, Position, Subassembly
from ..queries.consumables import wanted_in
from ..stores import writers as stores


def ready_for(places):
    """What is ready for these places, and is not fitted."""
    return Component.objects.ready().filter(place__in=places, fitted=None)


def places_of(subassembly: Subassembly):
    """Its own and those of its parts."""
    parts = Subassembly.objects.with_all_parts(subassembly.locomotive, subassembly.code)
    return Position.objects.filter(subassembly__in=parts)


def places_of_kit(kit: Kit):
    """The places that it is collected for; of chosen pieces, those they are for."""
    if kit.position:
        return Position.objects.with_all_inside(kit.position)
    if kit.subassembly:
        return places_of(kit.subassembly)
    return Position.objects.filter(pk__in=kit.lines.values("component__place"))


def begin(subassembly: Subassembly, actor: Person, *, gathered_at: Location | None = None) -> Kit:
    """Collect what is ready for it. Where a kit for it is being collected, that one, with what became ready since: two
    people collect together."""
    return _begin(actor, ready_for(places_of(subassembly)), gathered_at, subassembly=subassembly, position=None)


def begin_for_place(place: Position, actor: Person, *, gathered_at: Location | None = None) -> Kit:
    """Likewise, what is ready for one place and those inside it."""
    inside = Position.objects.with_all_inside(place)
    return _begin(actor, ready_for(inside), gathered_at, subassembly=place.subassembly, position=place)


def begin_chosen(pieces: Iterable[Component], actor: Person, *, words: str, gathered_at: Location | None = None) -> Kit:
    """These pieces, however far they have come, for the work that `words` say."""
    if not words.strip():
        raise Refused(Refusal("words", "What for: nothing was written.", "Name the work that they are collected for."))
    loose = Component.objects.live().filter(pk__in=[piece.pk for piece in pieces], fitted=None)
    if not loose.exists():
        raise Refused(Refusal("pieces", "Choose pieces that lie loose.", "What is fitted is not collected."))
    return _begin(actor, loose, gathered_at, words=" ".join(words.split()))


def _begin(actor: Person, pieces, gathered_at: Location | None, **what) -> Kit:
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        stores.may_take_things(gathered_at)
        found = list(pieces.order_by("id"))
        kit = Kit.objects.select_for_update().filter(closed_at=None, **what).first() if "subassembly" in what else None
        if kit is None and not found:
            raise Refused(Refusal("kit", "Accept its pieces first.", "Nothing is ready to be collected for it yet."))
        if kit is None:
            kit = Kit.objects.create(gathered_at=gathered_at, begun_by=actor, begun_at=timezone.now(), **what)
            _log(actor, "begin kit", kit, len(found))
        there = set(kit.lines.values_list("component", flat=True))
        KitLine.objects.bulk_create(KitLine(kit=kit, component=piece) for piece in found if piece.pk not in there)
        return kit


def take(kit: Kit, piece: Component, actor: Person) -> bool:
    """It is in hand, and lies from now on where the kit is gathered. Says whether it was not in hand before."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        line = _line(kit, piece)
        if line.taken_at:
            return False
        _is_loose(piece)
        _tick(line, actor)
        if kit.gathered_at:
            stores.move(piece, kit.gathered_at, actor, remark=str(kit))
        elif piece.missed_on:
            stores.found_again(writing.locked(piece.pk), actor, remark=str(kit))
        return True


def take_bag(kit: Kit, bag: Location, actor: Person) -> int:
    """A bolt bag is taken whole: everything of the kit in it is in hand. With nothing else in it, the bag itself goes
    where the kit is gathered; else what belongs to the kit does. Says how many pieces were not in hand before."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        kit = _open(kit)
        if bag.kind != LocationKind.BAG:
            raise Refused(Refusal("kit", "Scan the pieces one by one.", f"{bag.name} is no bolt bag."))
        lying = Component.objects.lying_in(bag)
        lines = list(
            kit.lines.select_for_update(of=("self",))
            .select_related("component")
            .filter(component__in=lying.values("pk"), taken_at=None)
        )
        if not lines:
            raise Refused(Refusal("kit", "Leave it where it lies.", f"Nothing in {bag.name} is left to collect."))
        for consumable, stock, _ in wanted_in(places_of_kit(kit)):
            if consumable.location_id == bag.pk and stock.in_stock:
                take_new(kit, consumable, actor)
        if kit.gathered_at and lying.exclude(kit_lines__kit=kit).exists():
            for line in lines:
                take(kit, line.component, actor)
            return len(lines)
        for line in lines:
            _tick(line, actor)
            if line.component.missed_on:
                stores.found_again(writing.locked(line.component_id), actor, remark=str(kit))
        if kit.gathered_at and kit.gathered_at != bag:
            stores.move_location(bag, kit.gathered_at, actor)
        return len(lines)


def take_new(kit: Kit, consumable: Consumable, actor: Person) -> tuple[int, int]:
    """Joints, packing, split pins, from the shelf: how many are in hand by it, and how many are short."""
    with writing.one_transaction():
        kit = _open(kit)
        return in_hand.take_for(consumable, places_of_kit(kit), actor, str(kit))


def put_new_back(kit: Kit, consumable: Consumable, actor: Person) -> int:
    with writing.one_transaction():
        kit = _open(kit)
        return in_hand.put_back(consumable, places_of_kit(kit), actor, str(kit))


def put_back(kit: Kit, piece: Component, actor: Person) -> None:
    """It was ticked by mistake. Where it lies by now, the move says."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        line = _line(kit, piece)
        _is_loose(piece)
        line.taken_by = line.taken_at = None
        line.save()


def miss(kit: Kit, piece: Component, actor: Person) -> None:
    """It is not where the register has it, so its place needs “find”."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        line = _line(kit, piece)
        _is_loose(piece)
        if line.taken_at:
            raise Refused(Refusal("kit", "Put it back first.", f"{capital(piece.name)} is collected already."))
        if not line.missed:
            line.missed = True
            line.save()
            stores.missed(piece, actor, str(piece.location or ""), {"kit": kit.pk})


def end(kit: Kit, actor: Person) -> str:
    """Everything is in hand that could be found; in words how many pieces that is."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        kit = _open(kit)
        kit.closed_at = timezone.now()
        kit.save(update_fields=["closed_at"])
        there = Q(taken_at__isnull=False) | Q(component__fitted__isnull=False)
        number = kit.lines.filter(there).exclude(component__state=State.WITHDRAWN.value).count()
        _log(actor, "end kit", kit, number)
        return several(number, "piece")


def _log(actor: Person, word: str, kit: Kit, pieces: int) -> None:
    writing.log(
        actor, word, subassembly=kit.subassembly, locomotive=kit.subassembly and kit.subassembly.locomotive,
        remark=kit.name, data={"kit": kit.pk, "pieces": pieces},
    )  # fmt: skip


def _tick(line: KitLine, actor: Person) -> None:
    line.taken_by, line.taken_at, line.missed = actor, timezone.now(), False
    line.save(update_fields=["taken_by", "taken_at", "missed"])


def _line(kit: Kit, piece: Component) -> KitLine:
    _open(kit)
    line = KitLine.objects.select_for_update().filter(kit=kit, component=piece).first()
    if line is None:
        raise Refused(Refusal("kit", "Leave it where it lies.", f"{capital(piece.name)} does not belong to this kit."))
    return line


def _is_loose(piece: Component) -> None:
    """Where somebody fitted it meanwhile, the kit is done with it."""
    if refusal := stores.stays_put(writing.locked(piece.pk)):
        raise Refused(refusal)


def _open(kit: Kit) -> Kit:
    found = Kit.objects.select_for_update(of=("self",)).select_related("subassembly__locomotive", "position")
    kit = found.select_related("gathered_at").get(pk=kit.pk)
    if kit.closed_at:
        raise Refused(Refusal("kit", "Begin another kit.", "This one has ended."))
    return kit
