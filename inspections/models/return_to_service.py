"""Return to service: what the competent person asked for, by what each is shown, and the signed list."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from core.models import Event
from parts.models import Overhaul


class AskedItem(models.Model):
    """One thing that the competent person asked for before the locomotive may go back into service."""

    overhaul = models.ForeignKey(Overhaul, on_delete=models.PROTECT, related_name="asked_items")
    words = models.CharField(max_length=300)
    asked_by = models.CharField(max_length=120)
    dropped = models.BooleanField(default=False)  # asked for by mistake, or asked for no longer

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(condition=~Q(words="") & ~Q(asked_by=""), name="asked_item_says_what_and_who")
        ]

    def __str__(self):
        return self.words


class Tick(models.Model):
    """By what an item is shown, and who says so. Never changed: a later one takes its place, or takes it back."""

    item = models.ForeignKey(AskedItem, on_delete=models.PROTECT, related_name="ticks")
    shown = models.BooleanField(default=True)  # False: taken back
    by_what = models.CharField("the record or paper; or why it was taken back", max_length=300)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="return_tick")

    class Meta:
        ordering = ["id"]
        constraints = [models.CheckConstraint(condition=~Q(by_what=""), name="tick_says_by_what")]

    def __str__(self):
        return self.by_what

    @property
    def on(self):
        return timezone.localdate(self.at)


class ReturnToServiceQuerySet(models.QuerySet):
    def for_page(self):
        return self.select_related("overhaul__locomotive", "by")


class ReturnToService(models.Model):
    """The list as it stood when it was signed, with the concessions that stood on it. Never changed; a later one
    follows it. It grants nothing."""

    overhaul = models.ForeignKey(Overhaul, on_delete=models.PROTECT, related_name="returns_to_service")
    content = models.JSONField(help_text="items and concessions as they stood")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="return_to_service")

    objects = ReturnToServiceQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]

    def __str__(self):
        return f"return to service of {self.overhaul.locomotive}"

    def get_absolute_url(self):
        return reverse("signed_return", args=[self.pk])
