"""Hold points: named work may not pass here until a named body releases it."""

from collections.abc import Iterable
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from core.models import Event
from core.models.checks import at_most_one, known, together

from ..domain.hold_words import Body
from .components import Component
from .locomotives import Overhaul
from .positions import Position
from .renewals import RenewalStep
from .struck import StandingManager, Strikable
from .structure import Subassembly


class HoldPointQuerySet(models.QuerySet):
    def of_locomotive(self, locomotive):
        """Those of its open overhaul, with what they are on."""
        on = self.select_related(
            "overhaul", "subassembly", "position__subassembly", "component", "released_by", "step__renewal__position",
            "lapsed_by", "stopped_by",
        ).prefetch_related("papers", "releases")  # fmt: skip
        stopped = Q(component__locomotive=locomotive) | Q(position__locomotive=locomotive)
        there = Q(overhaul__locomotive=locomotive, overhaul__closed__isnull=True)
        return on.filter(there | (stopped & Q(overhaul=None)))

    def above_places(self):
        """Those on a subassembly or on the whole overhaul: on no place, no piece and no step of a renewal."""
        return self.filter(overhaul__closed__isnull=True, position=None, component=None, step=None)

    def open_in(self, locomotives: Iterable[int], pieces: Iterable[int] = ()) -> Self:
        """Those of the open overhauls of these locomotives, but for steps of renewals; and the stops in no overhaul on
        their places and on these pieces."""
        there = Q(overhaul__locomotive__in=locomotives, overhaul__closed__isnull=True, step__isnull=True)
        stopped = Q(component__in=pieces) | Q(position__locomotive__in=locomotives)
        found = self.filter(there | (stopped & Q(overhaul=None)))
        return found.select_related("overhaul", "stopped_by").order_by("id")

    def alike(self, hold):
        """The same hold point on other places, not asked for nor released: of one survey, say."""
        same = {name: getattr(hold, name) for name in ("overhaul", "name", "body", "number", "must_show")}
        alike = self.filter(released_on=None, stopped_by=None, asked_on=hold.asked_on, step=None, **same)
        return alike.exclude(pk=hold.pk).order_by("id")

    def released_with(self, hold):
        """The same hold point on other places, released by the same paper on the same day."""
        fields = ("overhaul", "name", "body", "number", "must_show", "released_on", "reference")
        alike = self.filter(stopped_by=None, step=None, **{name: getattr(hold, name) for name in fields})
        return alike.exclude(pk=hold.pk).order_by("id")

    def stopping(self, thing):
        """The stops on a piece or a place that nobody has lifted."""
        on = {"component": thing} if isinstance(thing, Component) else {"position": thing}
        return self.filter(stopped_by__isnull=False, released_on=None, **on)

    def stops_on_piece(self, component):
        """The stops that nobody has lifted, on the piece or on its place."""
        on = Q(component=component) | Q(position__isnull=False, position=component.place_id)
        return self.filter(on, stopped_by__isnull=False, released_on=None).select_related("stopped_by")

    def stops_now(self, locomotive=None):
        """The stops that nobody has lifted: on the pieces and places of one locomotive, or of all and of none."""
        found = self.filter(stopped_by__isnull=False, released_on=None)
        if locomotive:
            found = found.filter(Q(component__locomotive=locomotive) | Q(position__locomotive=locomotive))
        return found.select_related("component__location", "position", "stopped_by").order_by("stopped_on", "id")

    def standing_on(self, component, place):
        """Released ones that lapse when this piece or what is in its place is reworked."""
        chain = place.subassembly.ids_upwards() if place else []
        on = Q(component=component) | Q(behind__in=chain) | Q(behind__isnull=True, subassembly__in=chain)
        if place:
            on |= Q(position=place)
        return self.filter(on, lapses=True, released_on__isnull=False, overhaul__closed__isnull=True).order_by("id")

    def on_step(self, step):
        """Those that stop this step of a renewal."""
        return self.filter(step=step, overhaul__closed__isnull=True)


class HoldPoint(Strikable):
    """Stops the actions it names on a piece, a position, a subassembly or (none of these) the whole overhaul."""

    overhaul = models.ForeignKey(
        Overhaul, on_delete=models.PROTECT, related_name="holds", null=True, blank=True,
        help_text="none: a stop while none is open, or on a piece of no locomotive",
    )  # fmt: skip
    stopped_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+",
        help_text="who stopped the work at once, because something is wrong",
    )  # fmt: skip
    stopped_on = models.DateField(null=True, blank=True)
    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, null=True, blank=True, related_name="holds")
    position = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="holds")
    component = models.ForeignKey(Component, on_delete=models.PROTECT, null=True, blank=True, related_name="holds")
    step = models.ForeignKey(RenewalStep, on_delete=models.PROTECT, null=True, blank=True, related_name="holds")
    number = models.PositiveSmallIntegerField(default=0, help_text="of several that were set together")
    name = models.CharField(max_length=160)
    stops = models.JSONField(default=list, help_text="the actions it stops")
    body = models.CharField("released by", max_length=120)
    body_kind = models.CharField("what sort of body", max_length=40, default=Body.OTHER.value)
    lapses = models.BooleanField("its release lapses when what it is on is taken off or reworked", default=False)
    behind = models.ForeignKey(
        Subassembly, on_delete=models.PROTECT, null=True, blank=True, related_name="+", help_text="what lies behind it"
    )
    lapsed_by = models.ForeignKey(Event, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    must_show = models.TextField("what must be shown", blank=True, default="")
    asked_on = models.DateField(null=True, blank=True)
    released_on = models.DateField(null=True, blank=True)
    released_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    reference = models.CharField(max_length=160, blank=True, default="")
    conditions = models.TextField(blank=True, default="")
    expires = models.DateField(null=True, blank=True)

    objects = StandingManager.from_queryset(HoldPointQuerySet)()

    class Meta:
        ordering = ["id"]
        constraints = [
            together("released_on", "released_by", "hold_released_by_and_on"),
            together("stopped_on", "stopped_by", "hold_stopped_by_and_on"),
            models.CheckConstraint(
                condition=Q(overhaul__isnull=False)
                | Q(stopped_by__isnull=False) & (Q(component__isnull=False) | Q(position__isnull=False)),
                name="hold_in_an_overhaul_or_a_stop",
            ),
            at_most_one(["subassembly", "position", "component", "step"], "hold_on_one_thing"),
            known("body_kind", Body, "hold_body_known"),
            models.CheckConstraint(
                condition=Q(asked_on__isnull=True) | Q(released_on__isnull=True) | Q(released_on__gte=F("asked_on")),
                name="hold_released_after_asking",
            ),
            models.CheckConstraint(
                condition=Q(released_on__isnull=True) | ~Q(reference=""), name="release_has_a_reference"
            ),
        ]

    def __str__(self):
        return self.name

    def reaches(self, piece: int, place: int | None, subassemblies: set[int]) -> bool:
        """It is on the piece, on its place, on a subassembly around it, or on the whole overhaul."""
        if self.component_id or self.position_id:
            return self.component_id == piece or (self.position_id is not None and self.position_id == place)
        return self.subassembly_id is None or self.subassembly_id in subassemblies

    def stops_on(self, day) -> bool:
        """It stops work: not released, or released until a day that has passed."""
        return self.released_on is None or (self.expires is not None and self.expires < day)

    @property
    def thing(self):
        """The piece or the place that a stop is on."""
        return self.component or self.position

    @property
    def locomotive(self):
        return self.overhaul.locomotive if self.overhaul else self.thing.locomotive

    @property
    def is_outside(self) -> bool:
        """A body outside the works releases it, so its paper is wanted."""
        return self.body_kind != Body.ENGINEER

    @property
    def on_words(self) -> str:
        """What it is on, in words."""
        if self.step:
            return f"{self.step.name} ({self.step.renewal.position.words})"
        thing = self.component or self.position or self.subassembly
        return getattr(thing, "words", None) or str(thing) if thing else "the whole overhaul"


class HoldRelease(models.Model):
    """One release of a hold point. It stays on record when it lapses and another has to be had."""

    hold = models.ForeignKey(HoldPoint, on_delete=models.PROTECT, related_name="releases")
    on = models.DateField("released on")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", help_text="entered by")
    reference = models.CharField(max_length=160)
    who = models.CharField("who released it, by name", max_length=120, blank=True, default="")
    filed = models.CharField("where the paper lies", max_length=160, blank=True, default="")
    conditions = models.TextField(blank=True, default="")
    expires = models.DateField(null=True, blank=True)
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="hold_release")

    class Meta:
        ordering = ["id"]
        constraints = [models.CheckConstraint(condition=~Q(reference=""), name="hold_release_has_a_reference")]
