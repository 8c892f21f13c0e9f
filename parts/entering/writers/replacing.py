"""Which piece replaces which. Following back what each one replaced never comes round to the first."""

from core.domain.refusals import Refused
from parts.actions import writing
from parts.common import jobs
from parts.domain.jobs import replacement_trouble
from parts.models import Component


def set_replaces(component: Component, old: Component | None, actor, *, seen=None) -> None:
    """Name the piece that this one replaces, or say that it replaces none."""
    jobs.allow_any(actor, "renew", "start on")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        if old is not None:
            refuse_loop(component, old)
        before = component.replaces_id
        if before == (old and old.pk):
            return
        component.replaces = old
        writing.log(actor, "replaces", component=component, data={"replaces": [before, old and old.pk]})
        component.save()


def refuse_loop(component: Component, old: Component) -> None:
    trouble = replacement_trouble(component.pk, old.pk, chain_from(old))
    if trouble:
        raise Refused(trouble)


def chain_from(old: Component) -> dict[int, int]:
    """From each piece to the one it replaces, back from this one; held, so that nobody closes a ring meanwhile."""
    chain, at = {}, old.pk
    while at is not None and at not in chain:
        before = Component.objects.select_for_update().filter(pk=at).values_list("replaces_id", flat=True).first()
        if before is None:
            break
        chain[at], at = before, before
    return chain
