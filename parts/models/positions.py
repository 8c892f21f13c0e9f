"""Positions: the places that must be filled."""

from collections.abc import Iterable
from datetime import date
from functools import reduce
from operator import or_

from django.conf import settings
from django.db import models
from django.db.models import Case, F, Q, Sum, Value, When
from django.db.models.functions import Coalesce, Lower
from django.urls import reverse

from core.models.checks import known
from core.models.numbered import numbered

from ..domain.diagram.known import TELLING
from ..domain.plain import capital
from ..domain.words import Method, Need, Side
from .locomotives import Locomotive
from .struck import StandingManager, Strikable
from .structure import Subassembly

STANDINGS = ("refitted", "ready", "blocked", "asleep", "not required")


class PositionQuerySet(models.QuerySet):
    def in_words_order(self):
        return self.order_by("name", "axle", "end", "side")

    def in_use(self):
        return self.filter(retired=False)

    def by_numbers(self, ids):
        return self.filter(pk__in=ids)

    def named(self, name: str):
        """Those that bear this name, on whatever axle and side."""
        return self.filter(name__iexact=name)

    def with_outer(self):
        """Each with the built-up piece's place that it is part of."""
        return self.select_related("part_of")

    def of_set(self, key: str):
        """The places machined together under this word; an empty word names no set."""
        return self.filter(matched=key) if key else self.none()

    def by_number(self, number):
        """The one of this number, as an address or a form gave it; None where there is none."""
        return numbered(self, number)

    def that_may_be_built_up(self, inner: "Position | None" = None):
        """What a place could be part of: not itself, nor what is inside it."""
        found = self.in_use().in_words_order()
        return found.exclude(pk=inner.pk).exclude(part_of=inner.pk) if inner else found

    def looked_at_inside(self):
        """What is safety-critical in a built-up piece left whole; not what is made to suit, or may be missing."""
        return self.filter(safety_critical=True, required=True, made_to_suit=False, known_empty_on=None, retired=False)

    def counted(self):
        """Those that readiness counts: required, not retired, not asleep."""
        return self.filter(standing__in=("refitted", "ready", "blocked"))

    def blocked(self):
        return self.filter(standing="blocked")

    def made_at_fitting(self):
        """Packing, shims and liners that are made to suit, and not in their places yet."""
        return self.filter(made_to_suit=True, standing__in=("ready", "blocked")).in_use().in_words_order()

    def with_all_inside(self, outer: "Position"):
        """A place and those inside it, two deep: a brass in an axlebox of a wheelset."""
        return self.filter(pk=outer.pk) | self.inside(part_of=outer)

    def inside(self, **around):
        """The places inside those around, one or two deep. By number: a join is looked through from end to end."""
        between = self.model._base_manager.filter(**around).values("pk")
        return self.filter(Q(**around) | Q(part_of__in=between))

    def waiting_for(self, needs):
        """Those that lead with one of these needs."""
        return self.waiting().filter(retired=False, need__in=[str(need) for need in needs])

    def by_method(self, method: str):
        """Those whose crack check is called for by this method; `any` is also where no method is named."""
        return self.filter(crack_check__in=(method, "") if method == Method.ANY else (method,))

    def with_words(self, text: str):
        """Those in which every word of the text stands somewhere: in name, side, axle, end, drawing or subassembly."""
        found = self.filter(retired=False)
        for word in text.split()[:6]:
            found = found.filter(
                Q(name__icontains=word) | Q(side__iexact=word) | Q(axle__icontains=word) | Q(end__icontains=word)
                | Q(inside__icontains=word) | Q(drawing__icontains=word) | Q(subassembly__name__icontains=word)
            )  # fmt: skip
        return found

    def called(self, text: str, most: int = 40):
        """The first of those with these words, on any locomotive."""
        found = self.with_words(text).select_related("locomotive", "subassembly", "part_of")
        return found.order_by("name", "locomotive", "axle", "end", "side")[:most]

    def to_strip(self, subassembly, words: str, side: str):
        """Places from which a piece may still come off, within a subassembly or anywhere, by words and handing. Those
        whose piece is gone, or was never there, are `gone` and come last."""
        found = self.with_words(words).with_capacity().exclude(standing="asleep")
        if subassembly:
            found = found.filter(subassembly=subassembly)
        if side:
            found = found.filter(side=side)
        found = found.annotate(gone=Q(need__in=(Need.SOURCE.value, Need.AWAIT.value)))
        return found.select_related("subassembly", "locomotive").order_by("gone", "name", "axle", "end", "side")

    def words_in_use(self) -> set[str]:
        """Every word of a name, in small letters. Names repeat a thousand times, so these are few."""
        names = self.filter(retired=False).order_by().values_list("name", flat=True).distinct()
        return {word for name in names for word in name.lower().split()}

    def to_choose(self, piece, words: str):
        """Places that a piece might be for, on its own locomotive if it has one: by words, else those known empty."""
        found = self.with_words(words) if words else self.in_use().exclude(known_empty_on=None)
        if piece.locomotive_id:
            found = found.filter(locomotive=piece.locomotive_id)
        found = found.with_filled().select_related("subassembly", "locomotive")
        return found.order_by("filled", "name", "axle", "end", "side")

    def with_filled(self):
        """Each with `filled`, what its live pieces add up to."""
        live = ~Q(pieces__state__in=("withdrawn", "in the making"))
        return self.annotate(filled=Coalesce(Sum("pieces__quantity", filter=live), 0))

    def with_capacity(self):
        """Those whose live pieces do not add up to the quantity yet: another may come off, or be chosen for it."""
        return self.filter(retired=False).with_filled().filter(filled__lt=F("quantity"))

    def changed_by(self, day: date):
        """Those that the calendar has made stand otherwise than is stored of them, by this day."""
        return self.filter(changes_on__lte=day, retired=False)

    def waiting_for_source(self, subassemblies: Iterable[int]):
        """Those known empty for which no new piece is under way."""
        return self.filter(subassembly__in=subassemblies, retired=False, standing="blocked", need="source")

    def waiting(self):
        """Those with something against them: blocked, or refitted and in doubt."""
        return self.filter(standing__in=("blocked", "refitted")).exclude(need="")


def _named_in(words) -> Q:
    """The places in whose name one of these stands, small or with a capital: a stored column of PostgreSQL cannot
    compare without regard to case."""
    return reduce(or_, (Q(name__contains=form) for word in words for form in (word, capital(word))))


class Position(Strikable):
    """A place that must be filled, on the locomotive or inside a built-up piece."""

    own_order: tuple[int, ...]  # what it goes on after, added by `positions_with_order`
    noted: int | None  # the decision noted provisionally, added where places are loaded, and so are these
    group: str
    group_caution: str
    outer_opened: bool | None
    outermost_opened: bool | None
    turn: int  # of its bucket, added by a work list

    locomotive = models.ForeignKey(Locomotive, on_delete=models.PROTECT, related_name="positions", db_index=False)
    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, related_name="positions")
    part_of = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="inner", help_text="the built-up piece"
    )
    name = models.CharField(max_length=120)
    side = models.CharField(max_length=2, blank=True, default="", help_text="looking forward from the footplate")
    axle = models.CharField(max_length=60, blank=True, default="")
    end = models.CharField(max_length=40, blank=True, default="")
    inside = models.CharField("inside or outside", max_length=10, blank=True, default="")
    drawing = models.CharField(max_length=120, blank=True, default="")
    material = models.CharField(max_length=120, blank=True, default="")
    quantity = models.PositiveIntegerField(default=1)
    required = models.BooleanField(default=True)
    safety_critical = models.BooleanField(default=False)
    pressure_part = models.BooleanField(default=False)
    crack_check = models.CharField(max_length=20, blank=True, default="", help_text="method called for")
    surfaces = models.JSONField(default=list, blank=True, help_text="surfaces that a crack check must reach")
    calls_for = models.JSONField(default=list, blank=True, help_text="further examinations")
    material_papers = models.BooleanField(default=False)
    needed_first = models.BooleanField(default=True, help_text="what goes on after this subassembly waits for it")
    made_to_suit = models.BooleanField(default=False)
    matched = models.CharField(max_length=80, blank=True, default="", help_text="machined together with")
    carries_identity = models.BooleanField(default=False, help_text="the built-up piece is known by this one")
    opened = models.BooleanField("broken down", default=False, help_text="its inner positions count")
    known_empty_on = models.DateField(null=True, blank=True)
    known_empty_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    evidence = models.TextField("evidence that it is empty", blank=True, default="")
    caution = models.CharField(
        max_length=300, blank=True, default="", help_text="the usual caution where it is worked on"
    )
    notes = models.TextField(blank=True, default="")
    source = models.CharField(max_length=200, blank=True, default="", help_text="where this line comes from")
    retired = models.BooleanField(default=False)
    merged_into = models.ForeignKey(
        "self",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="merged",
        help_text="the same, entered twice",
    )
    standing = models.CharField(max_length=12, default="blocked", editable=False)
    need = models.CharField(max_length=12, blank=True, default=Need.STRIP.value, editable=False)
    changes_on = models.DateField(null=True, editable=False, help_text="the calendar alone makes it stand otherwise")
    later = models.JSONField(default=list, editable=False, help_text="how it stands then: day, standing, need")

    tells_build = models.GeneratedField(
        expression=Case(When(_named_in(TELLING), then=Value(True)), default=Value(False)),
        output_field=models.BooleanField(),
        db_persist=True,
        help_text="its name says how the locomotive is built",
    )

    objects = StandingManager.from_queryset(PositionQuerySet)()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                "subassembly",
                Lower("name"),
                "side",
                Lower("axle"),
                Lower("end"),
                condition=Q(struck=False),
                name="position_once",
            ),  # fmt: skip
            known("side", Side, "position_side_known"),
            known("crack_check", Method, "position_method_known", blank=True),
            known("need", Need, "position_need_known", blank=True),
            models.CheckConstraint(condition=Q(standing__in=STANDINGS), name="position_standing_known"),
            models.CheckConstraint(condition=Q(quantity__gte=1), name="position_quantity_positive"),
            models.CheckConstraint(condition=~Q(part_of=F("id")), name="position_not_in_itself"),
            models.CheckConstraint(
                condition=Q(known_empty_on__isnull=True, known_empty_by__isnull=True)
                | Q(known_empty_on__isnull=False, known_empty_by__isnull=False) & ~Q(evidence=""),
                name="known_empty_by_whom_on_what_evidence",
            ),
        ]
        indexes = [
            models.Index(
                fields=["locomotive", "subassembly", "needed_first", "standing", "need"], name="position_tally"
            ),
            models.Index(
                fields=["locomotive", "changes_on"],
                name="position_changes_on",
                condition=Q(changes_on__isnull=False),
            ),
            models.Index(fields=["locomotive", "name"], name="position_tells_build", condition=Q(tells_build=True)),
        ]

    def __str__(self):
        return self.words

    @property
    def words(self) -> str:
        """'axlebox, LH, leading axle': how the workshop says it."""
        axle = (
            f"{self.axle} axle" if self.axle and "axle" not in self.axle.lower() and self.axle in AXLES else self.axle
        )
        words = [self.name, self.side, axle, self.end, self.inside]
        return ", ".join(word for word in words if word)

    @property
    def way_round(self) -> str:
        """'RH · LEADING · FRONT': the large plate."""
        return " · ".join(word.upper() for word in (self.side, self.axle, self.end, self.inside) if word)

    def stands_on(self, day: date) -> tuple[str, str]:
        """How it stands on a day, and with which need."""
        came = [(word, need) for on, word, need in self.later if date.fromisoformat(on) <= day]
        return came[-1] if came else (self.standing, self.need)

    @property
    def known_empty(self) -> bool:
        return self.known_empty_on is not None

    def get_absolute_url(self):
        return reverse("position", args=[self.pk])


AXLES = {"leading", "driving", "trailing", "intermediate", "main"}
