"""Hold points: named work may not pass here until a named body releases it."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from .checks import together
from .components import Component
from .locomotives import Overhaul
from .positions import Position
from .structure import Subassembly


class HoldPointQuerySet(models.QuerySet):
    def closed_to_work(self, day):
        """Those that stop work: not released, or released with an expiry that has passed."""
        return self.filter(Q(released_on__isnull=True) | Q(expires__lt=day))

    def of_locomotive(self, locomotive):
        """Those of its open overhaul, with what they are on."""
        on = self.select_related("overhaul", "subassembly", "position__subassembly", "component", "released_by")
        return on.filter(overhaul__locomotive=locomotive, overhaul__closed__isnull=True)

    def lapsed(self, day):
        """Those of an open overhaul whose release has expired."""
        return self.filter(released_on__isnull=False, expires__lt=day, overhaul__closed__isnull=True)

    def reaching(self, component, place, subassemblies):
        """Those on a piece, its place, the subassemblies around it, and on the whole overhaul, while it is open."""
        nothing = Q(subassembly__isnull=True, position__isnull=True, component__isnull=True)
        on = Q(subassembly__in=subassemblies) | nothing
        if component:
            on |= Q(component=component)
        if place:
            on |= Q(position=place)
        return self.filter(on, overhaul__closed__isnull=True)


class HoldPoint(models.Model):
    """Stops the actions it names on a piece, a position, a subassembly or (none of these) the whole overhaul."""

    overhaul = models.ForeignKey(Overhaul, on_delete=models.PROTECT, related_name="holds")
    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, null=True, blank=True, related_name="holds")
    position = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="holds")
    component = models.ForeignKey(Component, on_delete=models.PROTECT, null=True, blank=True, related_name="holds")
    name = models.CharField(max_length=160)
    stops = models.JSONField(default=list, help_text="the actions it stops")
    body = models.CharField("released by", max_length=120)
    must_show = models.TextField("what must be shown", blank=True, default="")
    asked_on = models.DateField(null=True, blank=True)
    released_on = models.DateField(null=True, blank=True)
    released_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    reference = models.CharField(max_length=160, blank=True, default="")
    conditions = models.TextField(blank=True, default="")
    expires = models.DateField(null=True, blank=True)

    objects = HoldPointQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            together("released_on", "released_by", "hold_released_by_and_on"),
            models.CheckConstraint(
                condition=Q(released_on__isnull=True) | ~Q(reference=""), name="release_has_a_reference"
            ),
        ]

    def __str__(self):
        return self.name

    def stops_on(self, day) -> bool:
        """It stops work: not released, or released until a day that has passed."""
        return self.released_on is None or (self.expires is not None and self.expires < day)

    def lapsed_on(self, day) -> bool:
        return self.released_on is not None and self.stops_on(day)

    @property
    def on_words(self) -> str:
        """What it is on, in words."""
        thing = self.component or self.position or self.subassembly
        return getattr(thing, "words", None) or str(thing) if thing else "the whole overhaul"
