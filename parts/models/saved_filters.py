"""Saved filters: a question to the find page that somebody asks again and again, under a name."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from core.models.numbered import numbered


class SavedFilterQuerySet(models.QuerySet):
    def offered_to(self, person):
        """A person's own, and what others share, in the order of names."""
        found = self.filter(Q(person=person) | Q(shared=True)).select_related("person")
        return found.order_by(Lower("name"), "pk")

    def of_person(self, person):
        return self.filter(person=person)

    def by_number(self, number):
        """The one of this number, as an address gave it; None where there is none."""
        return numbered(self, number)


class SavedFilter(models.Model):
    """The filters of the find page as they stand in its address."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="saved_filters")
    name = models.CharField(max_length=80)
    query = models.CharField(max_length=600, help_text="as in the address, without the question mark")
    shared = models.BooleanField("shown to everyone", default=False)

    objects = SavedFilterQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint("person", Lower("name"), name="saved_filter_once_a_person")]

    def __str__(self):
        return self.name
