"""Sizes taken from a condemned piece before it goes: what its successor must match."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from core.models import Event
from core.models.checks import known
from parts.models import Component, Photo

from ..domain.reproducing import What
from .dimensions import Dimension, in_unit
from .exact_field import MillimetresField
from .instruments import Instrument


class TakenSizeQuerySet(models.QuerySet):
    def of_piece(self, component):
        """Newest first; of a size taken twice both are there."""
        found = self.filter(component=component).select_related("dimension", "instrument", "by", "photo")
        return found.order_by("-id")

    def by_number(self, number):
        return self.select_related("component", "dimension__position").filter(pk=number).first()


class TakenSize(models.Model):
    """One size, as it was read. The dimension is what the new piece is measured for; its limits come in editions."""

    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="taken_sizes")
    dimension = models.ForeignKey(Dimension, on_delete=models.PROTECT, related_name="taken_sizes")
    what = models.CharField(max_length=24)
    typed = models.CharField("as typed", max_length=80)
    unit = models.CharField(max_length=2)
    value = MillimetresField()
    tolerance = models.CharField("as typed", max_length=80)
    instrument = models.ForeignKey(Instrument, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    with_what = models.CharField(max_length=120, blank=True, default="", help_text="where it bears no number")
    note = models.CharField(max_length=300, blank=True, default="")
    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="+")

    objects = TakenSizeQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            known("what", What, "taken_size_of_a_known_sort"),
            in_unit("taken_size_unit_known"),
            models.CheckConstraint(
                condition=Q(instrument__isnull=False) | ~Q(with_what=""), name="taken_size_says_with_what"
            ),
        ]

    def __str__(self):
        return self.dimension.name
