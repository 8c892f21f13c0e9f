"""Kits: the pieces for one job, collected from where they lie."""

from django.conf import settings
from django.db import models
from django.db.models import Count, Q
from django.urls import reverse

from core.models.checks import together
from core.models.numbered import numbered

from ..domain.words import State
from .components import Component
from .locations import Location
from .positions import Position
from .structure import Subassembly


class KitQuerySet(models.QuerySet):
    def open(self):
        """Those that are being collected, each with how many pieces it has, and how many of them are refitted, or are
        in hand or refitted."""
        live, refitted = ~Q(lines__component__state=State.WITHDRAWN.value), Q(lines__component__fitted__isnull=False)
        found = self.filter(closed_at=None).select_related(
            "subassembly__locomotive", "position", "begun_by", "gathered_at"
        )
        return found.annotate(
            pieces=Count("lines", filter=live),
            refitted=Count("lines", filter=refitted),
            collected=Count("lines", filter=refitted | live & Q(lines__taken_at__isnull=False)),
        ).order_by("-id")

    def by_number(self, number):
        found = self.select_related(
            "subassembly__locomotive", "subassembly__parent__parent", "position", "begun_by", "gathered_at"
        )
        return numbered(found, number)

    def latest_of(self, subassembly):
        """The one for all of it that was begun last."""
        return self.filter(subassembly=subassembly, position=None).first()

    def due(self, number, component) -> "Kit | None":
        """The open kit of this number, if this piece is still to be collected for it."""
        if component.fitted_id:
            return None
        found = self.filter(closed_at=None, lines__component=component, lines__taken_at=None)
        return numbered(found.select_related("subassembly", "position"), number)


class Kit(models.Model):
    """What was ready for a subassembly or one of its places, or the pieces chosen for some work. Where it is gathered,
    they lie from then on."""

    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, null=True, blank=True, related_name="kits")
    position = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="kits")
    words = models.CharField("the work that its pieces were chosen for", max_length=120, blank=True, default="")
    gathered_at = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    begun_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    begun_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, blank=True)

    objects = KitQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["subassembly"], condition=Q(closed_at=None, position=None), name="one_open_kit_a_subassembly"
            ),
            models.UniqueConstraint(fields=["position"], condition=Q(closed_at=None), name="one_open_kit_a_place"),
            models.CheckConstraint(
                condition=Q(subassembly__isnull=False, words="") | Q(subassembly=None, position=None) & ~Q(words=""),
                name="kit_for_a_subassembly_or_a_work",
            ),
        ]

    def __str__(self):
        return f"kit for {self.name}"

    @property
    def name(self) -> str:
        """What it is for."""
        if self.position:
            return self.position.words
        return self.subassembly.name if self.subassembly else self.words

    def get_absolute_url(self):
        return reverse("kit", args=[self.pk])


class KitLine(models.Model):
    """One piece of a kit: in hand once somebody took it, or missed."""

    code: str  # added by `kit_list`, and so is the line that comes after it
    next: int

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
