"""Evidence of what is no longer there: a place never filled, a feature known only from holes or a photograph."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from core.models import Event
from core.models.checks import known

from ..domain.job_words import EvidenceKind
from .photos import Photo
from .positions import Position


class EvidenceQuerySet(models.QuerySet):
    def about(self, position):
        """All that is known of what was here, newest first, with its pictures."""
        found = self.filter(position=position).select_related("by").prefetch_related("photos")
        return found.order_by("-id")


class Evidence(models.Model):
    """One thing from which something missing is known. Never edited; more is written down beside it."""

    position = models.ForeignKey(Position, on_delete=models.PROTECT, related_name="evidence_rows")
    kind = models.CharField(max_length=12)
    words = models.TextField("what it shows")
    source = models.CharField("where it is, or comes from", max_length=200, blank=True, default="")
    photos = models.ManyToManyField(Photo, related_name="evidence_of", blank=True)
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="evidence_row")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = EvidenceQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            known("kind", EvidenceKind, "evidence_kind_known"),
            models.CheckConstraint(condition=~Q(words=""), name="evidence_says_something"),
        ]

    def __str__(self):
        return f"{self.kind}: {self.words}"
