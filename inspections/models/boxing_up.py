"""Boxing up: the signed record of a subassembly before its inside can no longer be seen."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from core.models import Event
from parts.domain.fastening import Fastening
from parts.models import Component, Photo, Position, Subassembly


class BoxingUpQuerySet(models.QuerySet):
    def for_page(self):
        return self.select_related("subassembly__locomotive", "subassembly__parent", "by", "checker")

    def latest_of(self, subassembly):
        """The last time that it was boxed up; None if it never was."""
        return self.for_page().filter(subassembly=subassembly).order_by("-id").first()


class BoxingUp(models.Model):
    """What was inside, how it was held, and that nothing else was left there. Two people sign. Never changed: whether
    it still stands is worked out from what was done to the pieces since."""

    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, related_name="boxings_up")
    tools_in = models.PositiveSmallIntegerField()
    tools_out = models.PositiveSmallIntegerField()
    rags_in = models.PositiveSmallIntegerField()
    rags_out = models.PositiveSmallIntegerField()
    seen = models.TextField("what was seen before it was closed")
    photos = models.ManyToManyField(Photo, related_name="boxings_up")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    checker = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="boxing_up")

    objects = BoxingUpQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(tools_in=F("tools_out"), rags_in=F("rags_out")), name="all_tools_and_rags_counted_out"
            ),
            models.CheckConstraint(condition=~Q(by=F("checker")), name="boxed_up_by_two"),
            models.CheckConstraint(condition=~Q(seen=""), name="boxing_up_says_what_was_seen"),
        ]

    def __str__(self):
        return f"boxing up of {self.subassembly}"

    def get_absolute_url(self):
        return reverse("boxing_up", args=[self.pk])


class BoxedPiece(models.Model):
    """A piece that was inside, as named on the day, and how it was held there."""

    boxing_up = models.ForeignKey(BoxingUp, on_delete=models.PROTECT, related_name="pieces")
    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="+")
    position = models.ForeignKey(Position, on_delete=models.PROTECT, related_name="+")
    words = models.CharField("the place in words", max_length=300)
    code = models.CharField("the tag", max_length=12, blank=True, default="")
    tightened = models.CharField(max_length=200, blank=True, default="")
    locked = models.CharField(max_length=200, blank=True, default="")
    shims = models.CharField(max_length=200, blank=True, default="")
    built = models.TextField("measured as built, with its verdict", blank=True, default="")
    who = models.TextField("who fitted, locked and checked it", blank=True, default="")
    left_alone = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["boxing_up", "component"], name="boxed_piece_once"),
            models.CheckConstraint(condition=Q(left_alone=True) | ~Q(locked=""), name="boxed_piece_is_locked"),
        ]

    def __str__(self):
        return self.words

    @property
    def held(self) -> str:
        if self.left_alone:
            return "left alone in its place"
        held = Fastening(tightened=self.tightened, locked=self.locked, shims=self.shims).in_words()
        return "; ".join(filter(None, [held, self.built and f"as built: {self.built}"]))
