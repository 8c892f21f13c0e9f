"""Patterns, core boxes and jigs: what castings are made from and machined by."""

from django.conf import settings
from django.db import models
from django.db.models import Count, F, FilteredRelation, Q
from django.urls import reverse
from django.utils import timezone

from core.models.checks import known

from ..domain.job_words import Ending
from ..domain.pattern_words import PatternKind, PatternState
from .components import Component
from .firms import Firm
from .locations import Location
from .positions import Position


class PatternQuerySet(models.QuerySet):
    def in_use(self):
        return self.exclude(state=PatternState.WITHDRAWN.value)

    def with_codes(self):
        """Each with `code`, that of the tag it bears now."""
        current = FilteredRelation("tags", condition=Q(tags__current=True))
        return self.annotate(current_tag=current).annotate(code=F("current_tag__code"))

    def as_list(self):
        """Every one with its code, where it lies, and how many castings of ours it has made."""
        made = Count("castings", distinct=True)
        found = self.with_codes().annotate(made=made).select_related("location", "firm")
        return found.order_by("name", "id")

    def with_words(self, text: str):
        """Those about which every word of the text says something."""
        found = self
        for word in text.split()[:6]:
            found = found.filter(
                Q(name__icontains=word) | Q(drawing__icontains=word) | Q(marks__icontains=word)
                | Q(owner__icontains=word) | Q(kind__icontains=word) | Q(state__icontains=word)
                | Q(location__path__icontains=word) | Q(current_tag__code__startswith=word.upper())
            )  # fmt: skip
        return found

    def lying_in(self, location):
        """What lies right there, with its code."""
        return self.in_use().filter(location=location).with_codes().order_by("name", "id")

    def for_page(self):
        return self.select_related("location", "normal_location", "firm__location", "goes_with", "reference")

    def to_choose(self):
        """For a list to choose from."""
        return self.in_use().with_codes().order_by("name", "id")

    def heads(self, but: "Pattern | None" = None):
        """Those that a core box may go with."""
        found = self.to_choose().filter(goes_with=None)
        return found.exclude(pk=but.pk) if but else found

    def made_from(self, component):
        """What a piece was cast from or made with."""
        return self.filter(castings__component=component).with_codes().order_by("name", "id")

    def promised_by_firms(self):
        return self.filter(firm__isnull=False, promised_back__isnull=False).prefetch_related("positions")

    def at_firm(self, firm):
        """What this firm has to cast from, the earliest promise first."""
        return self.filter(firm=firm).order_by(F("promised_back").asc(nulls_last=True), "id")

    def for_place(self, position):
        """Those in use that are for a place."""
        return self.in_use().filter(positions=position).with_codes().order_by("name", "id")

    def measured_after(self, component):
        """Those in use that have this piece for a reference."""
        return self.in_use().filter(reference=component).order_by("name", "id")

    def for_labels(self, ids) -> dict:
        """What a printed tag says of them, under their numbers, in one query."""
        return self.in_bulk([pk for pk in ids if pk])


class Pattern(models.Model):
    """One pattern, core box or jig. Only `parts.foundry.writers.patterns` writes its state and where it lies."""

    kind = models.CharField(max_length=16, default=PatternKind.PATTERN.value)
    name = models.CharField("what it makes", max_length=160)
    drawing = models.CharField("drawing number", max_length=120, blank=True, default="")
    owner = models.CharField(max_length=120, blank=True, default="")
    marks = models.CharField("marks on it", max_length=200, blank=True, default="")
    condition = models.TextField("its condition, in words", blank=True, default="")
    allows = models.CharField("contraction it was made with, exact ratio", max_length=40, blank=True, default="")
    allows_as_written = models.CharField(
        "contraction it was made with, as written", max_length=120, blank=True, default=""
    )
    allows_known = models.CharField("how that is known", max_length=200, blank=True, default="")
    made_before = models.PositiveIntegerField("castings made before our time", null=True, blank=True)
    made_before_note = models.CharField("what is known of them", max_length=300, blank=True, default="")
    positions = models.ManyToManyField(Position, related_name="patterns", blank=True)
    goes_with = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="parts", help_text="core box of which"
    )
    reference = models.ForeignKey(
        Component, on_delete=models.PROTECT, null=True, blank=True, related_name="reference_for",
        help_text="the piece that it was made after, or is checked against",
    )  # fmt: skip
    state = models.CharField(max_length=16, default=PatternState.AS_FOUND.value, editable=False)
    since = models.DateField(help_text="in this state since")
    firm = models.ForeignKey(Firm, on_delete=models.PROTECT, null=True, blank=True, related_name="patterns")
    promised_back = models.DateField(null=True, blank=True)
    location = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="patterns")
    normal_location = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    last_event = models.BigIntegerField(default=0, editable=False)
    sent_event = models.BigIntegerField("when it went to a foundry last", default=0, editable=False)

    objects = PatternQuerySet.as_manager()

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            known("kind", PatternKind, "pattern_kind_known"),
            known("state", PatternState, "pattern_state_known"),
            models.CheckConstraint(condition=~Q(name=""), name="pattern_has_a_name"),
            models.CheckConstraint(
                condition=Q(state="at the foundry", firm__isnull=False) | ~Q(state="at the foundry") & Q(firm=None),
                name="at_the_foundry_names_the_firm",
            ),
            models.CheckConstraint(condition=~Q(goes_with=F("id")), name="pattern_not_with_itself"),
        ]

    def __str__(self):
        named = self.kind == PatternKind.OTHER or self.kind in self.name.lower()
        return self.name if named else f"{self.name} {self.kind}"

    def get_absolute_url(self):
        return reverse("pattern", args=[self.pk])

    @property
    def is_out(self) -> bool:
        return self.state == PatternState.AT_FOUNDRY

    def renewals_under_way(self):
        return self.renewals.filter(ended=Ending.OPEN.value).select_related("position").order_by("id")


class CastingQuerySet(models.QuerySet):
    def by_number(self, number):
        return self.select_related("component", "pattern").filter(pk=number).first()

    def of_pattern(self, pattern):
        """What it has made, the latest first, each with its code."""
        current = FilteredRelation("component__tags", condition=Q(component__tags__current=True))
        found = self.filter(pattern=pattern).annotate(current_tag=current).annotate(code=F("current_tag__code"))
        return found.select_related("component", "by").order_by("-id")


class Casting(models.Model):
    """A piece was made from a pattern, out of a core box, or in a jig."""

    pattern = models.ForeignKey(Pattern, on_delete=models.PROTECT, related_name="castings")
    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="castings")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    objects = CastingQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [models.UniqueConstraint(fields=["pattern", "component"], name="casting_once")]
