"""Components: the pieces themselves."""

from collections.abc import Iterable
from typing import Any, Self

from django.db import models
from django.db.models import Count, Exists, F, FilteredRelation, OuterRef, Q

from core.models.checks import known

from ..domain.words import Destination, Origin, Side, State
from .locations import Location
from .locomotives import Locomotive
from .positions import Position
from .struck import StandingManager, Strikable

FITTED = (State.IN_PLACE.value, State.REFITTED.value)


class ComponentQuerySet(models.QuerySet["Component"]):
    def live(self) -> Self:
        """Those that fill a place: neither withdrawn nor still in the making."""
        return self.exclude(state__in=(State.WITHDRAWN.value, State.IN_THE_MAKING.value))

    def ready(self):
        return self.filter(state__in=(State.ACCEPTED.value, State.RENEWED.value))

    def of_place(self, position):
        """Every piece that the place is or was reserved for, those that fill it first."""
        return self.filter(place=position).order_by("state", "id")

    def of_renewal(self, renewal):
        """What came of a renewal, spoilt blanks included, with codes."""
        return self.filter(renewal=renewal).with_codes().order_by("id")

    def come_of(self, piece):
        """What replaces a piece, was cut from it, or became part of it, with codes."""
        kin = Q(replaces=piece) | Q(cut_from=piece) | Q(joined_into=piece)
        return self.filter(kin).with_codes().order_by("id")

    def stock(self):
        """Plate and bar, and what is cut from it to be welded up: in the making, for no place."""
        return self.filter(state=State.IN_THE_MAKING.value, place__isnull=True).with_codes().order_by("name", "id")

    def to_weld_up(self, renewal):
        """Pieces in the making that might become one for this renewal: its own, and those cut for none yet."""
        own = Q(renewal=renewal) | Q(cut_from__isnull=False, place__isnull=True, renewal__isnull=True)
        return self.filter(own, state=State.IN_THE_MAKING.value).with_codes().order_by("name", "id")

    def to_let_in(self):
        """What was cut from plate or bar and is for no place and no renewal: a repair may let it into an old piece."""
        return self.stock().filter(cut_from__isnull=False, renewal__isnull=True)

    def loose(self):
        """Pieces in hand that have no place."""
        return self.live().filter(place__isnull=True)

    def lying_in(self, location):
        """What lies right there, with its code and its place."""
        return (
            self.filter(location=location)
            .exclude(state="withdrawn")
            .with_codes()
            .select_related("place")
            .order_by("name", "id")
        )

    def in_crates(self, location_ids):
        """What lies right in these places, with its code, in the order of names."""
        found = self.filter(location__in=location_ids).exclude(state="withdrawn")
        return found.with_codes().order_by("name", "id")

    def by_code(self, codes) -> dict:
        """The pieces that these tags hang on, under their codes, in one query."""
        found: Iterable[Any] = self.filter(tags__code__in=codes).annotate(asked_code=F("tags__code"))
        return {piece.asked_code: piece for piece in found}

    def of_subassembly(self, subassembly):
        """The pieces that belong into its own places, withdrawn ones aside."""
        found = self.filter(place__subassembly=subassembly).exclude(state="withdrawn")
        return found.order_by("name", "id")

    def named(self, ids):
        return self.filter(pk__in=ids)

    def in_name_order(self):
        return self.order_by("name", "id")

    def again(self, pieces) -> list:
        """These pieces as they stand by now."""
        return list(self.named([piece.pk for piece in pieces]).as_found().in_name_order())

    def named_by_tags(self, ids) -> dict:
        """With what a move asks of them, under their numbers."""
        return self.select_related("location", "fitted__part_of").in_bulk(ids)

    def for_labels(self, ids):
        """What a printed tag says of them, in one query."""
        return self.filter(pk__in=ids).with_codes().select_related("place", "locomotive", "location").order_by("id")

    def loose_of(self, locomotive):
        """The loose pieces of a locomotive, and those that may be anybody's, with their codes."""
        found = self.loose().filter(Q(locomotive=locomotive) | Q(locomotive__isnull=True))
        return found.select_related("location").with_codes().order_by("name", "id")

    def steps_in_hand(self) -> list[tuple[str, str]]:
        """How many pieces stand at each state, in the order of the life cycle; the numbers as strings."""
        counts = dict(self.values_list("state").annotate(number=Count("*")).order_by())
        return [(state.value, str(counts[state.value])) for state in State if counts.get(state.value)]

    def live_in(self, place_ids):
        """The live pieces of these places."""
        return self.live().filter(place__in=place_ids).order_by("id")

    def in_state(self, state: str):
        """Those in this state; no state means any."""
        return self.filter(state=state) if state else self

    def as_found(self):
        """With all that a row of what was found names, in the one query."""
        return self.with_codes().select_related("place", "location", "fitted__part_of")

    def for_page(self):
        """With all that the head of a piece's page names, in the one query."""
        return self.select_related(
            "locomotive", "location", "normal_location", "came_off", "replaces", "cut_from", "joined_into",
            "place__locomotive", "place__part_of", "place__subassembly__parent__parent", "fitted__part_of",
        )  # fmt: skip

    def with_beside(self):
        """With whether there is anything of each sort that its page shows beside it, asked in the one query: most
        pieces have nothing of most of them."""
        of_piece = {
            f"has_{name}": Exists(self._beside(name))
            for name in ("photos", "earmarks", "decisions", "repairs", "castings")
        }
        kin = self.model.objects.filter(
            Q(replaces=OuterRef("pk")) | Q(cut_from=OuterRef("pk")) | Q(joined_into=OuterRef("pk"))
        )
        old_tags = self._beside("tags").filter(current=False)
        return self.annotate(**of_piece, has_kin=Exists(kin), has_old_tags=Exists(old_tags))

    def _beside(self, name: str) -> models.QuerySet:
        """What there is of this sort of a piece in the query around it."""
        sort: Any = self.model._meta.get_field(name).related_model  # only Django knows which
        found: models.QuerySet = sort.objects.filter(component=OuterRef("pk"))
        return found

    def for_writing(self) -> Self:
        """With all that a judgement and its effect read of them, in the one query."""
        return self.select_related(
            "locomotive", "location", "came_off", "fitted", "renewal",
            "place__locomotive__location", "place__part_of", "place__subassembly",
        )  # fmt: skip

    def out_on_promise(self):
        """Those that lie elsewhere and are promised back, with what names them."""
        found = self.exclude(state="withdrawn").filter(promised_back__isnull=False, location__away=True)
        return found.with_codes().select_related("location", "place")

    def with_codes(self) -> Self:
        """Each with `code`, that of the tag it bears now."""
        current = FilteredRelation("tags", condition=Q(tags__current=True))
        found = self.annotate(current_tag=current)
        return found.annotate(code=F("current_tag__code"))


class Component(Strikable):
    """One physical thing, or a lot of identical things, with a tag. Only `parts.actions` writes its state."""

    code: str | None  # added where it is read `with_codes`
    noted: int | None  # the decision noted provisionally, added where pieces are loaded
    has_photos: bool  # added where it is read `with_beside`, and so are these
    has_earmarks: bool
    has_decisions: bool
    has_repairs: bool
    has_castings: bool
    has_kin: bool
    has_old_tags: bool

    locomotive = models.ForeignKey(
        Locomotive, on_delete=models.PROTECT, null=True, blank=True, related_name="components"
    )
    name = models.CharField("what it is", max_length=160)
    quantity = models.PositiveIntegerField(default=1)
    state = models.CharField(max_length=14, default=State.STRIPPED.value, editable=False)
    since = models.DateField(help_text="in this state since")
    side = models.CharField("its own side", max_length=2, blank=True, default="")
    marks = models.CharField("marks found on it", max_length=200, blank=True, default="")
    works_number = models.CharField("the works' own tag number", max_length=60, blank=True, default="")
    owner = models.CharField(max_length=120, blank=True, default="")
    origin = models.CharField(max_length=20, default=Origin.UNKNOWN.value)
    origin_evidence = models.CharField(max_length=300, blank=True, default="")
    cast_number = models.CharField("cast or plate number", max_length=80, blank=True, default="")
    papers = models.CharField("material papers", max_length=200, blank=True, default="")
    way_round = models.CharField("which way round", max_length=200, blank=True, default="")
    packing = models.CharField("packing and shims as found", max_length=200, blank=True, default="")
    mass_kg = models.DecimalField("mass of one", max_digits=15, decimal_places=9, null=True, blank=True)
    notes = models.TextField(blank=True, default="")
    matched = models.CharField("machined together with", max_length=80, blank=True, default="")
    came_off = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="gave")
    place = models.ForeignKey(
        Position, on_delete=models.PROTECT, null=True, blank=True, related_name="pieces", help_text="reserved for"
    )
    fitted = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="fitted_pieces")
    on_trial = models.BooleanField("offered up", default=False)
    left_alone = models.BooleanField(default=False)
    broken_down = models.BooleanField(default=False)
    location = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="components")
    normal_location = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    away_since = models.DateField(null=True, blank=True)
    missed_on = models.DateField("not there on", null=True, blank=True, editable=False)
    promised_back = models.DateField(null=True, blank=True)
    look_again = models.DateField(null=True, blank=True)
    protection = models.CharField(max_length=120, blank=True, default="")
    destination = models.CharField(max_length=30, blank=True, default="")
    quarantined = models.BooleanField("cracked: never to be used", default=False)
    replaces = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="replaced_by")
    renewal = models.ForeignKey(
        "parts.Renewal",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="pieces",
        help_text="it comes from",
    )
    cut_from = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="cut", help_text="the plate or bar"
    )
    joined_into = models.ForeignKey(
        "self",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="joined",
        help_text="what it became part of",
    )
    vouched_state = models.CharField(max_length=14, blank=True, default="", editable=False)
    vouched_event = models.BigIntegerField(default=0, editable=False)
    confirmed = models.BooleanField(default=False, editable=False)
    before_refit = models.CharField(max_length=14, blank=True, default="", editable=False)
    last_event = models.BigIntegerField(default=0, editable=False)
    bared_event = models.BigIntegerField(default=0, editable=False)
    cleaned_event = models.BigIntegerField(default=0, editable=False)
    welded_event = models.BigIntegerField(default=0, editable=False)

    objects = StandingManager.from_queryset(ComponentQuerySet)()

    class Meta:
        constraints = [
            known("state", State, "component_state_known"),
            known("side", Side, "component_side_known"),
            known("origin", Origin, "component_origin_known"),
            known("destination", Destination, "component_destination_known", blank=True),
            known("vouched_state", State, "component_vouched_known", blank=True),
            models.CheckConstraint(condition=Q(quantity__gte=1), name="component_quantity_positive"),
            models.CheckConstraint(
                condition=Q(mass_kg__isnull=True) | Q(mass_kg__gt=0), name="component_mass_above_nought"
            ),
            models.CheckConstraint(
                # Said of both: a comparison with nothing is neither true nor false, and a check takes that for true.
                condition=Q(state__in=FITTED, fitted__isnull=False, place__isnull=False, fitted=F("place"))
                | Q(fitted__isnull=True) & (~Q(state__in=FITTED) | Q(struck=True)),
                name="fitted_in_its_own_place",
            ),
            models.CheckConstraint(
                condition=Q(place__isnull=False)
                | ~Q(state__in=("crack-checked", "accepted", "renewed"))
                | Q(struck=True),
                name="no_further_than_cleaned_without_a_place",
            ),
            models.CheckConstraint(
                condition=(Q(state="withdrawn") & ~Q(destination="")) | (~Q(state="withdrawn") & Q(destination="")),
                name="withdrawn_has_a_destination",
            ),
            models.CheckConstraint(
                condition=Q(on_trial=False) | Q(state__in=("cleaned", "crack-checked", "accepted", "renewed")),
                name="on_trial_only_from_cleaned",
            ),
            models.CheckConstraint(condition=~Q(replaces=F("id")), name="replaces_another_piece"),
        ]
        indexes = [
            models.Index(fields=["locomotive", "state"], name="component_states"),
            models.Index(fields=["place", "state"], name="component_place_state"),
        ]

    @property
    def called(self) -> str:
        """By the words of its place where that has the same name: they say which of several it is."""
        return self.place.words if self.place and self.place.name == self.name else self.name

    def __str__(self):
        return self.name


class Earmark(models.Model):
    """A further place that a piece might go to; the one that reserves it is `Component.place`."""

    component = models.ForeignKey(Component, on_delete=models.CASCADE, related_name="earmarks")
    position = models.ForeignKey(Position, on_delete=models.CASCADE, related_name="earmarks")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["component", "position"], name="earmark_once")]
