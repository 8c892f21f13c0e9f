"""How much metals contract and how heavy they are: figures with their source. A figure is never edited: a better one
takes its place, or it is struck out, and both stay readable."""

from fractions import Fraction

from django.conf import settings
from django.db import models
from django.db.models import Q


class FigureQuerySet(models.QuerySet):
    def in_force(self):
        """Those that nothing took the place of and nobody struck out, rows of one material side by side."""
        material: str = self.model.BY  # type: ignore[attr-defined]  # each kind of figure says by what
        return self.filter(better=None, struck=None).order_by(material, "id")

    def past(self):
        """Those that no longer stand, with what became of them, the latest first."""
        found = self.exclude(better=None, struck=None).select_related("better", "struck__by")
        return found.order_by("-id")

    def by_number(self, number):
        return self.filter(pk=number).select_related("better", "struck").first()


class Figure(models.Model):
    """What every sourced figure carries."""

    source = models.CharField(max_length=300)
    edition = models.CharField("edition and page", max_length=120, blank=True, default="")
    note = models.CharField(max_length=300, blank=True, default="")
    from_memory = models.BooleanField("from memory, not read", default=False)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+",
        help_text="nobody: it came with Cotter",
    )  # fmt: skip
    at = models.DateTimeField()
    replaces = models.OneToOneField("self", on_delete=models.PROTECT, null=True, blank=True, related_name="better")

    objects = FigureQuerySet.as_manager()

    class Meta:
        abstract = True


class Contraction(Figure):
    """What one source says of one metal. Without a ratio the source gives a range, or could not be read."""

    BY = "metal"

    metal = models.CharField(max_length=80)
    ratio = models.CharField("exact ratio", max_length=40, blank=True, default="")
    as_written = models.CharField("as the source writes it", max_length=120)

    class Meta:
        ordering = ["metal", "id"]
        constraints = [
            models.CheckConstraint(condition=~Q(metal="") & ~Q(source=""), name="contraction_names_its_source"),
        ]

    def __str__(self):
        return f"{self.metal}, {self.as_written} ({self.source})"

    @property
    def exact(self) -> Fraction | None:
        return Fraction(self.ratio) if self.ratio else None


class Density(Figure):
    """What one source says of one material."""

    BY = "material"

    material = models.CharField(max_length=80)
    kg_m3 = models.CharField("kg per cubic metre", max_length=40)
    as_written = models.CharField("as the source writes it", max_length=120)

    class Meta:
        ordering = ["material", "id"]
        verbose_name_plural = "densities"
        constraints = [
            models.CheckConstraint(
                condition=~Q(material="") & ~Q(source="") & ~Q(kg_m3=""), name="density_names_its_source"
            ),
        ]

    def __str__(self):
        return f"{self.material}, {self.as_written}"

    @property
    def exact(self) -> Fraction:
        return Fraction(self.kg_m3)


class StruckOut(models.Model):
    """A figure stands no longer, and nothing takes its place."""

    contraction = models.OneToOneField(
        Contraction, on_delete=models.PROTECT, null=True, blank=True, related_name="struck"
    )
    density = models.OneToOneField(Density, on_delete=models.PROTECT, null=True, blank=True, related_name="struck")
    why = models.CharField(max_length=300)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(contraction__isnull=False, density__isnull=True)
                | Q(contraction__isnull=True, density__isnull=False),
                name="struck_out_one_figure",
            ),
            models.CheckConstraint(condition=~Q(why=""), name="struck_out_says_why"),
        ]
