"""Promised days and every change of them, of a repair or of a step of a renewal. Never edited."""

from collections.abc import Iterable

from django.conf import settings
from django.db import models
from django.db.models import Q

from core.domain.catalogue import PUT_BACK
from core.models import Event

_LATER = Q(promises__new__gt=models.F("promises__old"))
_EARLIER = Q(promises__new__lt=models.F("promises__old"))
_PUT_BACK = Q(promises__event__action__in=PUT_BACK)
SLIPS = models.Count("promises", filter=_LATER & ~_PUT_BACK) - models.Count("promises", filter=_EARLIER & _PUT_BACK)
"""Of a repair or a step, how often a later day was promised than before. One noted by mistake is put back by a row of
its own, and is none."""


class Promise(models.Model):
    """A day was promised, or moved, or taken back. The first has no older day; a later day is a slip."""

    repair = models.ForeignKey("Repair", on_delete=models.PROTECT, null=True, blank=True, related_name="promises")
    step = models.ForeignKey("RenewalStep", on_delete=models.PROTECT, null=True, blank=True, related_name="promises")
    old = models.DateField(null=True, blank=True)
    new = models.DateField(null=True, blank=True)
    why = models.CharField(max_length=300, blank=True, default="")
    event = models.ForeignKey(Event, on_delete=models.PROTECT, related_name="promises")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(repair__isnull=False, step__isnull=True) | Q(repair__isnull=True, step__isnull=False),
                name="promise_of_one_thing",
            ),
            models.CheckConstraint(condition=Q(old__isnull=True) | ~Q(why=""), name="a_promise_that_moved_says_why"),
            models.CheckConstraint(condition=Q(old__isnull=False) | Q(new__isnull=False), name="a_promise_names_a_day"),
        ]

    @property
    def slipped_days(self) -> int:
        """By how many days it slipped; nothing where it did not."""
        return max((self.new - self.old).days, 0) if self.old and self.new else 0


def that_stand(promises: Iterable[Promise]) -> list[Promise]:
    """Of one repair or step, from the first on: without each noted by mistake, and the row that put it back."""
    stand: list[Promise] = []
    for promise in promises:
        if stand and promise.event.action in PUT_BACK:
            stand.pop()  # only the last one can be put back
        else:
            stand.append(promise)
    return stand
