"""The one event log. A row is never changed and never removed; its number says what came after what."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from parts.domain.words import State

from .checks import known

PRINTED = "print labels"


class EventQuerySet(models.QuerySet):
    def newest_number(self) -> int:
        """What is written from now on has a higher one."""
        return self.order_by("-id").values_list("id", flat=True).first() or 0

    def about_position(self, position):
        """What was done to the place itself, and to pieces in it."""
        return self.filter(position=position)

    def about_location(self, location):
        """What was done to a place where things lie: added, moved, photographed."""
        return self.filter(location=location)

    def about_pattern(self, pattern):
        return self.filter(pattern=pattern)

    def for_telling(self):
        """Newest first, with all that a line of history names."""
        return self.newest_first().select_related("actor", "checker", "movement__went_to", "movement__came_from")

    def printings(self, most: int = 5):
        """The last times that labels were printed, the latest first."""
        return self.filter(action=PRINTED).select_related("actor").order_by("-id")[:most]

    def printing_of_number(self, number):
        """One time that labels were printed, as an address named it; None if it was none."""
        return self.filter(action=PRINTED, pk=number).first() if str(number or "").isdecimal() else None

    def printings_of(self, code: str):
        """The times that this tag was printed, the latest first."""
        return self.filter(action=PRINTED, data__tags__icontains=code).order_by("-id")

    def last_printing_of_crate(self, code: str):
        """The last time that a crate's label was printed with the list of what was in it."""
        return self.filter(action=PRINTED, data__inside__has_key=code).order_by("-id").first()

    def printings_to_other_addresses(self, base: str):
        """When and what was printed with another address than this; before addresses were remembered, none is known."""
        found = self.filter(action=PRINTED, data__has_key="address").exclude(data__address=base)
        return found.order_by("id").values_list("at", "data")

    def newest_first(self):
        return self.order_by("-id")


class Event(models.Model):
    """Somebody did something to one thing."""

    at = models.DateTimeField(default=timezone.now)
    actor = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="events")
    action = models.CharField(max_length=30)
    locomotive = models.ForeignKey(
        "parts.Locomotive", on_delete=models.PROTECT, null=True, blank=True, related_name="events"
    )
    overhaul = models.ForeignKey("parts.Overhaul", on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    component = models.ForeignKey(
        "parts.Component", on_delete=models.PROTECT, null=True, blank=True, related_name="events"
    )
    position = models.ForeignKey(
        "parts.Position", on_delete=models.PROTECT, null=True, blank=True, related_name="events"
    )
    subassembly = models.ForeignKey(
        "parts.Subassembly", on_delete=models.PROTECT, null=True, blank=True, related_name="events"
    )
    location = models.ForeignKey(
        "parts.Location", on_delete=models.PROTECT, null=True, blank=True, related_name="events"
    )
    pattern = models.ForeignKey("parts.Pattern", on_delete=models.PROTECT, null=True, blank=True, related_name="events")
    from_state = models.CharField(max_length=14, blank=True, default="")
    to_state = models.CharField(max_length=14, blank=True, default="")
    checker = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    remark = models.TextField(blank=True, default="")
    data = models.JSONField(default=dict, blank=True)

    objects = EventQuerySet.as_manager()

    class Meta:
        db_table = "parts_event"
        ordering = ["id"]
        indexes = [models.Index(fields=["action", "id"], name="event_by_action")]  # when was this printed last?
        constraints = [
            known("from_state", State, "event_from_known", blank=True),
            known("to_state", State, "event_to_known", blank=True),
            models.CheckConstraint(condition=~Q(action=""), name="event_says_what"),
            models.CheckConstraint(
                condition=Q(checker__isnull=True) | ~Q(checker=models.F("actor")), name="two_names_are_two_people"
            ),
        ]

    def __str__(self):
        return f"{self.pk}: {self.action}"
