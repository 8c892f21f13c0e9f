"""Photos of pieces, places, positions, patterns and subassemblies."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from core.models.checks import at_most_one

from .components import Component
from .locations import Location
from .patterns import Pattern
from .positions import Position
from .structure import Subassembly


class PhotoQuerySet(models.QuerySet["Photo"]):
    def with_names(self):
        """With what it is a photo of and who took it, in the one query."""
        return self.select_related("component", "position", "location", "pattern", "subassembly", "by")

    def same_as(self, contents) -> dict[str, "Photo"]:
        """Those that came from files with exactly these contents, each under its content."""
        return {photo.content: photo for photo in self.filter(content__in=list(contents))}

    def latest_of(self, pieces) -> dict[int, str]:
        """The name of each piece's latest photo, under the piece's number, in one query."""
        found = self.filter(component__in=[piece.pk for piece in pieces]).order_by("id")
        return dict(found.values_list("component_id", "name"))


class Photo(models.Model):
    """One picture. Files are named by `name`: originals/<name> (backup only), pictures/<name>-large.jpg, -small.jpg."""

    name = models.CharField(max_length=40, unique=True)
    original_suffix = models.CharField(max_length=8)
    component = models.ForeignKey(Component, on_delete=models.PROTECT, null=True, blank=True, related_name="photos")
    position = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="photos")
    location = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="photos")
    pattern = models.ForeignKey(Pattern, on_delete=models.PROTECT, null=True, blank=True, related_name="photos")
    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, null=True, blank=True, related_name="photos")
    quarters = models.PositiveSmallIntegerField("turned to the right", default=0)
    caption = models.CharField(max_length=200, blank=True, default="")
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    content = models.CharField(max_length=64, blank=True, default="")  # SHA-256 of the original as it came
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    objects = PhotoQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            at_most_one(["component", "position", "location", "pattern", "subassembly"], "photo_of_one_thing")
        ]
