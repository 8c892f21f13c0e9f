"""Writers of kits: begun for a subassembly, each piece taken or missed, and ended."""

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Person

from ..actions import writing
from ..domain.plain import capital
from ..models import Component, Kit, KitLine, Location, Subassembly
from ..stores import writers as stores


def ready_for(subassembly: Subassembly):
    """What is ready for its places and those of its parts, and is not fitted."""
    subassemblies = Subassembly.objects.with_all_parts(subassembly.locomotive, subassembly.code)
    return Component.objects.ready().filter(place__subassembly__in=subassemblies, fitted=None)


def begin(subassembly: Subassembly, actor: Person, *, gathered_at: Location | None = None) -> Kit:
    """Collect what is ready for it. Where a kit for it is being collected, that one: two people collect together."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        stores.may_take_things(gathered_at)
        open_one = Kit.objects.select_for_update().filter(subassembly=subassembly, closed_at=None).first()
        if open_one:
            return open_one
        pieces = list(ready_for(subassembly).order_by("id"))
        if not pieces:
            raise Refused(
                Refusal("kit", "Accept its pieces first.", f"Nothing is ready to go on for {subassembly.name} yet.")
            )
        kit = Kit.objects.create(
            subassembly=subassembly, gathered_at=gathered_at, begun_by=actor, begun_at=timezone.now()
        )
        KitLine.objects.bulk_create(KitLine(kit=kit, component=piece) for piece in pieces)
        data = {"kit": kit.pk, "pieces": len(pieces)}
        writing.log(actor, "begin kit", subassembly=subassembly, locomotive=subassembly.locomotive, data=data)
        return kit


def take(kit: Kit, piece: Component, actor: Person) -> bool:
    """It is in hand, and lies from now on where the kit is gathered. Says whether it was not in hand before."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        line = _line(kit, piece)
        if line.taken_at:
            return False
        line.taken_by, line.taken_at, line.missed = actor, timezone.now(), False
        line.save()
        if kit.gathered_at:
            stores.move(piece, kit.gathered_at, actor, remark=str(kit))
        elif piece.missed_on:
            stores.found_again(writing.locked(piece.pk), actor, remark=str(kit))
        return True


def put_back(kit: Kit, piece: Component, actor: Person) -> None:
    """It was ticked by mistake. Where it lies by now, the move says."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        line = _line(kit, piece)
        line.taken_by = line.taken_at = None
        line.save()


def miss(kit: Kit, piece: Component, actor: Person) -> None:
    """It is not where the register has it, so its place needs “find”."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        line = _line(kit, piece)
        if line.taken_at:
            raise Refused(Refusal("kit", "Put it back first.", f"{capital(piece.name)} is collected already."))
        if not line.missed:
            line.missed = True
            line.save()
            stores.missed(piece, actor, str(piece.location or ""), {"kit": kit.pk})


def end(kit: Kit, actor: Person) -> None:
    """Everything is in hand that could be found."""
    with writing.one_transaction():
        writing.allow(actor, "collect kit")
        kit = _open(kit)
        kit.closed_at = timezone.now()
        kit.save(update_fields=["closed_at"])
        data = {"kit": kit.pk, "pieces": kit.lines.filter(taken_at__isnull=False).count()}
        writing.log(actor, "end kit", subassembly=kit.subassembly, locomotive=kit.subassembly.locomotive, data=data)


def _line(kit: Kit, piece: Component) -> KitLine:
    _open(kit)
    line = KitLine.objects.select_for_update().filter(kit=kit, component=piece).first()
    if line is None:
        raise Refused(Refusal("kit", "Leave it where it lies.", f"{capital(piece.name)} does not belong to this kit."))
    return line


def _open(kit: Kit) -> Kit:
    kit = Kit.objects.select_for_update(of=("self",)).select_related("subassembly__locomotive").get(pk=kit.pk)
    if kit.closed_at:
        raise Refused(Refusal("kit", "Begin another kit.", "This one has ended."))
    return kit
