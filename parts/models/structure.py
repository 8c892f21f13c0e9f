"""Subassemblies, and the order in which things go together."""

from collections import defaultdict

from django.db import models
from django.db.models import Count, Q
from django.urls import reverse

from core.models.numbered import numbered

from .locomotives import Locomotive
from .struck import StandingManager, Strikable


class SubassemblyQuerySet(models.QuerySet):
    def in_use(self):
        return self.filter(retired=False).select_related("parent").order_by("sequence", "name")

    def by_number(self, number):
        """The one of this number, as an address gave it; None where there is none."""
        return numbered(self, number)

    def with_all_parts(self, locomotive, code: str) -> list[int]:
        """The numbers of a locomotive's subassembly and of all its parts, itself first; none if it has no such one."""
        rows = list(self.filter(locomotive=locomotive, retired=False).values_list("pk", "parent", "code"))
        found = [pk for pk, _, own in rows if own == code]
        for above in found:
            found += [pk for pk, parent, _ in rows if parent == above]
        return found

    def to_choose_from(self, slug: str) -> list[tuple[str, str, int]]:
        """A locomotive's subassemblies (code, name, depth), parents before their parts."""
        below = defaultdict(list)
        found = self.filter(retired=False, locomotive__slug=slug).order_by("sequence", "name")
        for pk, parent, code, name in found.values_list("pk", "parent", "code", "name"):
            below[parent].append((pk, code, name))
        return list(_parts_of(None, below, 0))

    def by_locomotive(self):
        """Every subassembly that has places, under its locomotive, for a list to choose from."""
        found = self.in_use().select_related("locomotive", "parent").filter(positions__retired=False).distinct()
        return found.order_by("locomotive__name", "sequence", "name")

    def as_tree(self) -> list["Subassembly"]:
        """Parents before their parts, each with `depth`, `places` (a number) and `orders` (what it goes on after)."""
        places = Count("positions", filter=Q(positions__retired=False))
        found = list(self.in_use().annotate(places=places).prefetch_related("goes_on_after__after"))
        below = defaultdict(list)
        for sub in found:
            sub.orders = [edge.after for edge in sub.goes_on_after.all()]
            below[sub.parent_id].append(sub)
        return list(_downwards(below, None, 0))


def _parts_of(above, below, depth):
    for pk, code, name in below[above]:
        yield code, name, depth
        yield from _parts_of(pk, below, depth + 1)


def _downwards(below, parent, depth):
    for sub in below[parent]:
        sub.depth = depth
        yield sub
        yield from _downwards(below, sub.pk, depth + 1)


class Subassembly(Strikable):
    """A group that goes together as one job; a tree."""

    locomotive = models.ForeignKey(Locomotive, on_delete=models.PROTECT, related_name="subassemblies")
    parent = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="parts")
    code = models.SlugField(max_length=80)
    name = models.CharField(max_length=120)
    sequence = models.PositiveIntegerField(default=0, help_text="order among equals on the page")
    caution = models.CharField(
        max_length=300, blank=True, default="", help_text="the usual caution where it is worked on"
    )
    retired = models.BooleanField(default=False)
    merged_into = models.ForeignKey(
        "self",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="merged",
        help_text="the same, entered twice",
    )

    objects = StandingManager.from_queryset(SubassemblyQuerySet)()

    class Meta:
        ordering = ["locomotive", "sequence", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["locomotive", "code"], condition=Q(struck=False), name="subassembly_code_once"
            ),
            models.CheckConstraint(condition=~Q(parent=models.F("id")), name="subassembly_not_its_own_part"),
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("subassembly", args=[self.locomotive.slug, self.code])

    def ids_upwards(self) -> list[int]:
        """Its own number and those of all that it is part of: what holds there holds here."""
        return [self.pk, *(self.parent.ids_upwards() if self.parent else ())]


class GoesOnAfter(models.Model):
    """A subassembly, or one position in its own right, goes on after a subassembly."""

    subassembly = models.ForeignKey(
        Subassembly, on_delete=models.CASCADE, null=True, blank=True, related_name="goes_on_after"
    )
    position = models.ForeignKey(
        "parts.Position", on_delete=models.CASCADE, null=True, blank=True, related_name="goes_on_after"
    )
    after = models.ForeignKey(Subassembly, on_delete=models.CASCADE, related_name="goes_on_before")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(subassembly__isnull=False, position__isnull=True)
                | Q(subassembly__isnull=True, position__isnull=False),
                name="order_of_one_thing",
            ),
            models.UniqueConstraint(fields=["subassembly", "after"], name="order_once"),
            models.UniqueConstraint(fields=["position", "after"], name="position_order_once"),
            models.CheckConstraint(condition=~Q(subassembly=models.F("after")), name="not_after_itself"),
        ]

    def __str__(self):
        return f"{self.subassembly or self.position} after {self.after}"
