"""Promised days and every change of them, of a repair or of a step of a renewal. Never edited."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from core.models import Event

from .renewals import RenewalStep
from .repairs import Repair


class Promise(models.Model):
    """A day was promised, or moved, or taken back. The first has no older day; a later day is a slip."""

    repair = models.ForeignKey(Repair, on_delete=models.PROTECT, null=True, blank=True, related_name="promises")
    step = models.ForeignKey(RenewalStep, on_delete=models.PROTECT, null=True, blank=True, related_name="promises")
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
