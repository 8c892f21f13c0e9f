"""Limit sheets: published or the railway's own limits, as data, attached to positions by the kind of place."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from .exact_field import MillimetresField


class LimitSheet(models.Model):
    """One edition of a sheet. A later edition is another sheet of the same name; neither is ever edited."""

    name = models.CharField(max_length=160)
    edition = models.CharField(max_length=80)
    source = models.CharField("who published it", max_length=200)
    standing = models.CharField("where it holds", max_length=300, blank=True, default="")
    added_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    added_at = models.DateTimeField()

    class Meta:
        ordering = ["name", "-id"]
        constraints = [
            models.UniqueConstraint(fields=["name", "edition"], name="limit_sheet_edition_once"),
            models.CheckConstraint(condition=~Q(source="") & ~Q(edition=""), name="limit_sheet_says_its_source"),
        ]

    def __str__(self):
        return f"{self.name}, {self.edition}"


class SheetRow(models.Model):
    """One clause of a sheet: what it limits, on which kind of place, and how it treats the value on the limit."""

    sheet = models.ForeignKey(LimitSheet, on_delete=models.PROTECT, related_name="rows")
    number = models.PositiveIntegerField()
    clause = models.CharField(max_length=80, blank=True, default="")
    applies_to = models.CharField("kind of place", max_length=120)
    letter = models.CharField(max_length=8, blank=True, default="")
    item = models.CharField("what is measured", max_length=200)
    kind = models.CharField("size, wear, clearance …", max_length=40, default="size")
    unit = models.CharField(max_length=2)
    wears = models.CharField(max_length=8, default="either")
    drawing = models.CharField(max_length=80, blank=True, default="")
    new_lower = MillimetresField(null=True, blank=True)
    new_upper = MillimetresField(null=True, blank=True)
    shop_lower = MillimetresField(null=True, blank=True)
    shop_upper = MillimetresField(null=True, blank=True)
    scrapping_lower = MillimetresField(null=True, blank=True)
    scrapping_upper = MillimetresField(null=True, blank=True)
    shop_open = models.BooleanField(default=False)
    scrapping_open = models.BooleanField(default=False)
    note = models.CharField(max_length=300, blank=True, default="")

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "number"], name="sheet_row_numbered_once"),
            models.CheckConstraint(condition=Q(unit__in=["mm", "in"]), name="sheet_row_unit_known"),
        ]

    def __str__(self):
        return f"{self.clause} {self.item}".strip()
