"""The one event log. A row is never changed and never removed; its number says what came after what."""

from collections.abc import Iterable
from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Exists, OuterRef, Q, Subquery
from django.utils import timezone

from parts.domain.words import State

from .checks import known
from .numbered import numbered
from .prepared import Scope, prepared

PRINTED = "print labels"


@prepared
def _newest(scope: Scope) -> models.QuerySet[Any]:
    return Event.objects.order_by("-id").values_list("id", flat=True)[:1]


class EventQuerySet(models.QuerySet):
    def newest_number(self) -> int:
        """Of the whole log. What is written from now on has a higher one."""
        return next(iter(_newest({})), 0)

    def about(self, kind: str, number: int | Iterable[int] | models.QuerySet | OuterRef):
        """Those about a thing, or about any of several things of one kind."""
        if isinstance(number, OuterRef):
            return self.filter(subjects__kind=kind, subjects__number=number)
        wanted: dict[str, Any] = {"kind": kind}
        several = number if isinstance(number, models.QuerySet) or not isinstance(number, Iterable) else list(number)
        wanted |= {"number__in": several} if isinstance(number, Iterable) else {"number": number}
        return self.filter(pk__in=EventSubject.objects.filter(**wanted).values("event"))

    def not_about(self, kind: str):
        """Those about nothing of this kind."""
        return self.exclude(Exists(EventSubject.objects.filter(event=OuterRef("pk"), kind=kind)))

    def for_telling(self):
        """Newest first, with all that a line of history names."""
        return self.newest_first().select_related("actor", "checker", "movement__went_to", "movement__came_from")

    def printings(self, most: int = 5):
        """The last times that labels were printed, the latest first."""
        return self.filter(action=PRINTED).select_related("actor").order_by("-id")[:most]

    def printing_of_number(self, number):
        """One time that labels were printed, as an address named it; None if it was none."""
        return numbered(self.filter(action=PRINTED), number)

    def printings_of(self, code: str):
        """The times that this tag was printed, the latest first."""
        return self.filter(action=PRINTED, data__tags__icontains=code).order_by("-id")

    def last_printing_of_crate(self, code: str):
        """The last time that a crate's label was printed with the list of what was in it."""
        return self.filter(action=PRINTED, data__inside__has_key=code).order_by("-id").first()

    def printings_to_other_addresses(self, base: str):
        """When and what was printed with another address than this, since addresses are remembered."""
        found = self.filter(action=PRINTED, data__has_key="address").exclude(data__address=base)
        return found.order_by("id").values_list("at", "data")

    def newest_first(self):
        return self.order_by("-id")

    def subject_of(self, kind: str):
        """Each with `about`: the number of the thing of this kind that it is about, or None."""
        own = EventSubject.objects.filter(event=OuterRef("pk"), kind=kind)
        return self.annotate(about=Subquery(own.values("number")[:1]))


class Event(models.Model):
    """Somebody did something. Its subjects say what it is about, its type in the catalogue what it holds."""

    at = models.DateTimeField(default=timezone.now)
    actor = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="events")
    action = models.CharField(max_length=30)
    version = models.PositiveSmallIntegerField(default=1)
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


class EventSubjectQuerySet(models.QuerySet):
    def of(self, kind: str, numbers: Iterable[int], words: Iterable[str]):
        """Those that make events under these words be about these things."""
        return self.filter(kind=kind, number__in=list(numbers), event__action__in=list(words))

    def not_about(self, kind: str, numbers):
        """Without events that are also about one of these things."""
        return self.exclude(Exists(EventSubject.objects.filter(event=OuterRef("event"), kind=kind, number__in=numbers)))


class EventSubject(models.Model):
    """One thing that an event is about, by its kind and its number: a new kind of thing needs no column."""

    event = models.ForeignKey(Event, on_delete=models.PROTECT, related_name="subjects")
    kind = models.CharField(max_length=20)
    number = models.BigIntegerField()

    objects = EventSubjectQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["kind", "number", "event"], name="event_subject_once")]
