"""Drawings: each with where its original lies, what it shows, what it is good for and how that is known; and where
two drawings of one thing say different things, both, side by side."""

from django.conf import settings
from django.db import models
from django.db.models import Count, Exists, OuterRef, Prefetch, Q
from django.urls import reverse

from core.models.checks import known

from ..domain.drawing_words import HowKnown, dated, number_key, numbers_in
from .locations import Location
from .locomotives import Locomotive
from .positions import Position
from .struck import StandingManager, Strikable


class DrawingQuerySet(models.QuerySet["Drawing"]):
    def by_number(self, pk):
        return self.select_related("original_at", "by").filter(pk=pk).first()

    def of_number(self, text: str):
        """Those with one of the numbers that a line of text names, however they are spelt."""
        return self.filter(key__in=[number_key(number) for number in numbers_in(text)])

    def meant_by(self, text: str) -> list["Drawing"]:
        """The one that is written just so, with its sheet and issue; or all that have the number."""
        typed = number_key(text)
        near: list[Drawing] = list(self.filter(key__in=[typed[:length] for length in range(1, len(typed) + 1)]))
        whole = [drawing for drawing in near if number_key(str(drawing)) == typed]
        return whole or [drawing for drawing in near if drawing.key == typed]

    def same_as(self, drawing: "Drawing"):
        """Another row for the same sheet of paper."""
        same = self.filter(key=drawing.key, sheet__iexact=drawing.sheet, issue__iexact=drawing.issue)
        return same.exclude(pk=drawing.pk).first()

    def for_place(self, position: Position):
        """Those that show this place, and those whose number stands on it."""
        keys = [number_key(number) for number in numbers_in(position.drawing)]
        return self.filter(Q(positions=position) | Q(key__in=keys)).distinct().order_by("number", "sheet", "issue")

    def as_list(self):
        """Every drawing; those in an open conflict first."""
        found = self.annotate(
            scans=Count("papers", distinct=True),
            shows=Count("positions", distinct=True),
            in_conflict=Exists(ConflictSide.objects.filter(drawing=OuterRef("pk"), conflict__settled="")),
        )
        return found.order_by("-in_conflict", "number", "sheet", "issue", "id")

    def good_for(self, locomotive):
        return self.filter(good_for__locomotive=locomotive)

    def without_scan(self):
        return self.filter(papers=None)

    def with_words(self, text: str):
        """Those whose number or title says every word."""
        found = self
        for word in text.split()[:6]:
            key = number_key(word)
            found = found.filter((Q(key__contains=key) if key else Q(pk=None)) | Q(title__icontains=word))
        return found


class Drawing(Strikable):
    """One sheet. Only `parts.drawings.writers.drawings` writes it."""

    number = models.CharField(max_length=80)
    key = models.CharField(max_length=80, editable=False, help_text="the number without case, spaces and punctuation")
    sheet = models.CharField(max_length=20, blank=True, default="")
    issue = models.CharField(max_length=20, blank=True, default="")
    title = models.CharField(max_length=200)
    year = models.PositiveSmallIntegerField(null=True, blank=True)
    drawn_on = models.DateField("the whole date, where it is known", null=True, blank=True)
    original = models.CharField("where the original lies, in words", max_length=200, blank=True, default="")
    original_at = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="drawings")
    note = models.TextField(blank=True, default="")
    positions = models.ManyToManyField(Position, related_name="drawings", blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    entered = models.DateField()
    last_event = models.BigIntegerField(default=0, editable=False)

    objects = StandingManager.from_queryset(DrawingQuerySet)()

    class Meta:
        ordering = ["number", "sheet", "issue", "id"]
        constraints = [
            models.UniqueConstraint(fields=["key", "sheet", "issue"], condition=Q(struck=False), name="drawing_once"),
            models.CheckConstraint(condition=~Q(key="") & ~Q(title=""), name="drawing_has_number_and_title"),
        ]

    def __str__(self):
        sheet = f", sheet {self.sheet}" if self.sheet else ""
        return f"{self.number}{sheet}{f', issue {self.issue}' if self.issue else ''}"

    def get_absolute_url(self):
        return reverse("drawing", args=[self.pk])

    @property
    def dated(self) -> str:
        return dated(self.year, self.drawn_on)

    @property
    def lies(self) -> str:
        """Where the original lies."""
        return ", ".join(filter(None, [self.original_at.path if self.original_at else "", self.original]))


class GoodFor(models.Model):
    """A drawing is good for a locomotive of ours, or for others in words; how that is known, and who says so."""

    drawing = models.ForeignKey(Drawing, on_delete=models.PROTECT, related_name="good_for")
    locomotive = models.ForeignKey(
        Locomotive, on_delete=models.PROTECT, null=True, blank=True, related_name="good_drawings"
    )
    words = models.CharField("which others", max_length=120, blank=True, default="")
    how = models.CharField("how that is known", max_length=20)
    note = models.CharField(max_length=300, blank=True, default="")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["id"]
        constraints = [
            known("how", HowKnown, "good_for_how_known"),
            models.CheckConstraint(
                condition=Q(locomotive__isnull=False, words="") | Q(locomotive=None) & ~Q(words=""),
                name="good_for_one_thing",
            ),
            models.UniqueConstraint(fields=["drawing", "locomotive"], name="good_for_once"),
            models.UniqueConstraint(fields=["drawing", "words"], condition=~Q(words=""), name="good_for_words_once"),
        ]

    def __str__(self):
        return self.locomotive.name if self.locomotive else self.words


class ConflictQuerySet(models.QuerySet):
    def by_number(self, pk):
        return self.select_related("position__subassembly__locomotive").filter(pk=pk).first()

    def open(self):
        return self.filter(settled="")

    def side_by_side(self):
        """Each with what every drawing says; the open ones first."""
        sides = Prefetch("sides", ConflictSide.objects.select_related("drawing").order_by("id"))
        found = self.select_related("position", "by", "settled_by", "rests_on").prefetch_related(sides)
        return found.order_by("settled_at", "-id")

    def of_place(self, position):
        return self.filter(position=position).side_by_side()

    def of_drawing(self, drawing):
        return self.filter(sides__drawing=drawing).side_by_side()


class Conflict(models.Model):
    """Drawings of one place say different things about one matter. Once it is settled, the row never changes."""

    position = models.ForeignKey(Position, on_delete=models.PROTECT, related_name="conflicts")
    about = models.CharField(max_length=120)
    note = models.TextField(blank=True, default="")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    settled = models.TextField("how it was settled", blank=True, default="")
    rests_on = models.ForeignKey(Drawing, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    settled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    settled_at = models.DateTimeField(null=True, blank=True)

    objects = ConflictQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(condition=~Q(about=""), name="conflict_about_something"),
            models.CheckConstraint(
                condition=Q(settled="", settled_by=None, settled_at=None)
                | ~Q(settled="") & Q(settled_by__isnull=False, settled_at__isnull=False),
                name="conflict_settled_by_somebody",
            ),
        ]

    def __str__(self):
        return f"{self.about}: {self.position}"


class ConflictSide(models.Model):
    """What one drawing says of it."""

    conflict = models.ForeignKey(Conflict, on_delete=models.PROTECT, related_name="sides")
    drawing = models.ForeignKey(Drawing, on_delete=models.PROTECT, related_name="sides")
    says = models.CharField(max_length=300)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["conflict", "drawing"], name="conflict_side_once"),
            models.CheckConstraint(condition=~Q(says=""), name="conflict_side_says_something"),
        ]

    def __str__(self):
        return f"{self.drawing}: {self.says}"
