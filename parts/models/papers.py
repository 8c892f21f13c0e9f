"""Papers: scans of drawings, certificates and letters of release, as files."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from core.models.checks import at_most_one

from .components import Component
from .drawings import Drawing
from .holds import HoldPoint
from .renewals import RenewalStep
from .repairs import Repair

ON = ("hold", "component", "step", "repair", "drawing")


class Paper(models.Model):
    """One file as it came. It is kept under `name`; what it was called stays beside it."""

    name = models.CharField(max_length=40, unique=True)
    suffix = models.CharField(max_length=5)
    title = models.CharField(max_length=200)
    size = models.PositiveIntegerField("bytes")
    content = models.CharField("SHA-256", max_length=64)
    hold = models.ForeignKey(HoldPoint, on_delete=models.PROTECT, null=True, blank=True, related_name="papers")
    component = models.ForeignKey(
        Component, on_delete=models.PROTECT, null=True, blank=True, related_name="paper_files"
    )
    step = models.ForeignKey(RenewalStep, on_delete=models.PROTECT, null=True, blank=True, related_name="paper_files")
    repair = models.ForeignKey(Repair, on_delete=models.PROTECT, null=True, blank=True, related_name="paper_files")
    drawing = models.ForeignKey(Drawing, on_delete=models.PROTECT, null=True, blank=True, related_name="papers")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]
        constraints = [
            at_most_one(list(ON), "paper_on_one_thing"),
            models.CheckConstraint(condition=~Q(title=""), name="paper_has_a_title"),
        ]

    def __str__(self):
        return self.title

    def get_absolute_url(self):
        return reverse("paper", args=[self.name])
