"""People. A person is never deleted, only deactivated: their name stands behind records."""

from collections import defaultdict
from collections.abc import Collection
from functools import cached_property
from typing import Any, ClassVar

from django.contrib.auth.models import AbstractUser, Group, UserManager
from django.db import models
from django.db.models import QuerySet

from core.roles import Role
from parts.domain.rows import Actor

from .prepared import Scope, prepared


class PersonManager(UserManager["Person"]):
    use_in_migrations = False

    def with_roles(self):
        """Those who sign in first, then those who no longer do; each with their roles."""
        return self.prefetch_related("groups").order_by("-is_active", "first_name", "last_name", "username")

    def in_role(self, role: str):
        """Those who sign in and hold this role."""
        return self.filter(is_active=True, groups__name=role)

    def in_roles(self, roles):
        """Those who sign in and hold one of these roles."""
        return self.filter(is_active=True, groups__name__in=roles).distinct()

    def actors(self, today, roles: Collection[str] = ()) -> list[Actor]:
        """Everybody who signs in, as the rules see them; of some roles, which then are all that is told of theirs."""
        roles_of, rights_of = defaultdict(set), defaultdict(set)
        for person, role in () if roles else _all_roles({}):
            roles_of[person].add(role)
        for right in _authorisations({}):
            if right.good_on(today):
                rights_of[right.person_id].add(right.as_word())
        found = self.in_roles(roles).order_by(*BY_NAME) if roles else _all_who_sign_in({})
        return [
            Actor(
                id=one.pk,
                name=str(one),
                roles=frozenset(roles or roles_of[one.pk]),
                authorised=frozenset(rights_of[one.pk]),
            )
            for one in found
        ]

    def who_signs_in(self, username: str):
        """The person of this sign-in name, unless there is none or they have left."""
        return self.filter(username=username, is_active=True).first()


class Person(AbstractUser):
    """Somebody who signs in. Roles are groups named as in `core.roles`."""

    pin = models.CharField(max_length=128, blank=True, default="", help_text="hashed; for shared tablets only")
    lists = models.CharField(max_length=4, default="mine", help_text="whose work the lists show: mine or all")

    objects: ClassVar[PersonManager] = PersonManager()

    class Meta(AbstractUser.Meta):
        db_table = "workshop_person"
        verbose_name = "person"
        verbose_name_plural = "people"
        ordering = ["first_name", "last_name", "username"]

    def __str__(self):
        return self.get_full_name() or self.username

    @cached_property
    def role_names(self) -> frozenset[str]:
        return frozenset(_roles({"user__in": [self.pk]}))

    @property
    def is_engineer(self) -> bool:
        """Whether this is the responsible engineer, or one of them, and still signs in."""
        return self.is_active and Role.RESPONSIBLE_ENGINEER in self.role_names

    def as_actor(self, today) -> Actor:
        """The person as the rules see them, with the authorisations to sign that are good on this day."""
        authorised = frozenset(one.as_word() for one in self.authorised_on(today))
        return Actor(id=self.pk, name=str(self), roles=self.role_names, authorised=authorised)

    def authorised_on(self, day) -> list["Authorisation"]:
        return [one for one in _authorisations({"person__in": [self.pk]}) if one.good_on(day)]


class Authorisation(models.Model):
    """The right to sign one kind of examination, by one method where it has methods, until a date."""

    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="authorisations")
    kind = models.CharField(max_length=20)
    method = models.CharField(max_length=20, blank=True)
    level = models.CharField(max_length=40, blank=True, help_text="qualification and level, as on the certificate")
    until = models.DateField(null=True, blank=True)

    class Meta:
        db_table = "workshop_authorisation"
        constraints = [models.UniqueConstraint(fields=["person", "kind", "method"], name="authorisation_once")]

    def __str__(self):
        return f"{self.person}: {self.as_word()}"

    def as_word(self) -> str:
        """'visual', or 'crack check: penetrant'."""
        return f"{self.kind}: {self.method}" if self.method else self.kind

    def good_on(self, day) -> bool:
        """To its last day, that day too."""
        return self.until is None or self.until >= day


BY_NAME = ("first_name", "last_name", "pk")


@prepared
def _all_who_sign_in(scope: Scope) -> QuerySet[Person]:
    return Person.objects.filter(is_active=True, **scope).order_by(*BY_NAME)


@prepared
def _all_roles(scope: Scope) -> QuerySet[Any]:
    held = Person.groups.through.objects.filter(person__is_active=True, **scope)
    return held.values_list("person_id", "group__name")


@prepared
def _roles(scope: Scope) -> QuerySet[Any]:
    return Group.objects.filter(**scope).values_list("name", flat=True)


@prepared
def _authorisations(scope: Scope) -> QuerySet[Authorisation]:
    return Authorisation.objects.filter(**scope)
