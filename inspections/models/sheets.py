"""Limit sheets: published or the railway's own limits, as data, attached to positions by the kind of place."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from ..domain.attaching import row_in_words
from ..domain.limit_words import limits_in_words
from ..domain.limits import Limits
from .exact_field import MillimetresField


class LimitSheetQuerySet(models.QuerySet):
    def with_counts(self):
        """Each with `clauses`, how many rows it has; the newest edition of a sheet first."""
        return self.annotate(clauses=models.Count("rows")).order_by("name", "-id")


class LimitSheet(models.Model):
    """One edition of a sheet. A later edition is another sheet of the same name; neither is ever edited."""

    name = models.CharField(max_length=160)
    edition = models.CharField(max_length=80)
    source = models.CharField("who published it", max_length=200)
    jurisdiction = models.CharField("where it holds", max_length=300, blank=True, default="")
    added_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    added_at = models.DateTimeField()

    objects = LimitSheetQuerySet.as_manager()

    class Meta:
        ordering = ["name", "-id"]
        constraints = [
            models.UniqueConstraint(fields=["name", "edition"], name="limit_sheet_edition_once"),
            models.CheckConstraint(condition=~Q(source="") & ~Q(edition=""), name="limit_sheet_says_its_source"),
        ]

    def __str__(self):
        return f"{self.name}, {self.edition}"


class SheetRowQuerySet(models.QuerySet):
    def ending(self, words: str):
        """Those of a table whose item ends so: the band of a load."""
        return self.filter(item__endswith=words) if words else self.none()


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

    objects = SheetRowQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "number"], name="sheet_row_numbered_once"),
            models.CheckConstraint(condition=Q(unit__in=["mm", "in"]), name="sheet_row_unit_known"),
        ]

    def __str__(self):
        return f"{self.clause} {self.item}".strip()

    @property
    def how_it_fails(self) -> str:
        """When a figure fails by it, and what the value exactly on the limit does."""
        bounds = {
            "scrapping_lower": self.scrapping_lower if self.scrapping_lower is not None else self.shop_lower,
            "scrapping_upper": self.scrapping_upper if self.scrapping_upper is not None else self.shop_upper,
        }
        return row_in_words(self.kind, bounds, is_open=self.scrapping_open or self.shop_open, unit=self.unit)

    def plain(self) -> Limits:
        """As limits of a size of its own; a loss or a gauge only once its size is known."""
        return Limits.of(self, unit=self.unit, wears=self.wears)

    def in_words(self) -> list[tuple[str, str]]:
        """`("Shop limit", "at least 123 mm (…)")` and so on: for a row that sets limits of its own as a workshop has
        them; one of law only says when it fails."""
        one_limit = (self.shop_lower, self.shop_upper) == (self.scrapping_lower, self.scrapping_upper)
        if one_limit and self.new_lower is None and self.new_upper is None:
            return [("Limit", self.how_it_fails)]
        return limits_in_words(self.plain())
