"""Receipts: what was kept on a phone and has arrived, so that whatever is sent again changes nothing."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from .events import Event


class ReceiptQuerySet(models.QuerySet["Receipt"]):
    def of_key(self, key: str) -> "Receipt | None":
        return self.select_related("person").filter(key=key).first()

    def onward_of(self, person, keys) -> dict[str, str]:
        """Those of this person's keys that have arrived, each with where it led."""
        return dict(self.filter(person=person, key__in=keys).values_list("key", "onward"))


class Receipt(models.Model):
    """One thing that a phone had kept, and the answer it was given. Written in the transaction of the change itself."""

    key = models.CharField(max_length=32, unique=True)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    kept_at = models.DateTimeField(null=True, blank=True)
    sent_to = models.CharField(max_length=300)
    message = models.TextField(blank=True, default="")
    onward = models.CharField(max_length=300, blank=True, default="")
    event = models.ForeignKey(Event, on_delete=models.PROTECT, null=True, blank=True, related_name="receipts")
    seen = models.BigIntegerField(null=True, blank=True)

    objects = ReceiptQuerySet.as_manager()

    class Meta:
        db_table = "parts_receipt"
        ordering = ["-id"]

    def __str__(self):
        return f"{self.key}: {self.sent_to}"
