"""Kits: the pieces for one job, collected from where they lie."""

from django.conf import settings
from django.db import models
from django.db.models import Count, Q
from django.urls import reverse

from core.models.checks import together
from core.models.numbered import numbered

from .components import Component
from .locations import Location
from .structure import Subassembly


class KitQuerySet(models.QuerySet):
    def open(self):
        """Those that are being collected, each with how many pieces it has and how many are in hand."""
        taken = Count("lines", filter=Q(lines__taken_at__isnull=False))
        found = self.filter(closed_at=None).select_related("subassembly__locomotive", "begun_by", "gathered_at")
        return found.annotate(pieces=Count("lines"), taken=taken).order_by("-id")

    def by_number(self, number):
        found = self.select_related("subassembly__locomotive", "subassembly__parent", "begun_by", "gathered_at")
        return numbered(found, number)


class Kit(models.Model):
    """What was ready of a subassembly when collecting began. Where it is gathered, the pieces lie from then on."""

    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, related_name="kits")
    gathered_at = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    begun_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    begun_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = KitQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["subassembly"], condition=Q(closed_at=None), name="one_open_kit_a_subassembly"
            )
        ]

    def __str__(self):
        return f"kit for {self.subassembly}"

    def get_absolute_url(self):
        return reverse("kit", args=[self.pk])


class KitLine(models.Model):
    """One piece of a kit: in hand once somebody took it, or missed."""

    kit = models.ForeignKey(Kit, on_delete=models.PROTECT, related_name="lines")
    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="kit_lines")
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    taken_at = models.DateTimeField(null=True, blank=True)
    missed = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["kit", "component"], name="piece_once_in_a_kit"),
            models.CheckConstraint(
                condition=Q(missed=False) | Q(taken_at__isnull=True), name="kit_piece_taken_or_missed"
            ),
            together("taken_at", "taken_by", "kit_piece_taken_by_and_at"),
        ]
