"""The people of the demo, all invented, and what they may sign."""

from dataclasses import dataclass

from django.contrib.auth.hashers import make_password
from django.contrib.auth.models import Group

from core.models import Authorisation, Person
from core.roles import Role
from parts.domain.grouping import AUTHORISED as AUTHORISED_FOR_GROUPS
from parts.domain.words import Kind, Method

PASSWORD = "axlebox"
"""One for everybody: the demo is for looking about."""


@dataclass(frozen=True)
class Cast:
    """Called by their first names, as everybody does there."""

    pim: Person  # volunteers
    wren: Person
    nell: Person  # stores
    bram: Person  # fitters
    ines: Person
    petra: Person  # examiners
    oskar: Person
    maud: Person  # responsible engineers
    kofi: Person
    ada: Person  # works manager
    rolf: Person  # trustee


NAMES = {
    "pim": ("Pim Oakhanger", Role.VOLUNTEER),
    "wren": ("Wren Tolliscombe", Role.VOLUNTEER),
    "nell": ("Nell Cobberly", Role.STOREKEEPER),
    "bram": ("Bram Selwicke", Role.FITTER),
    "ines": ("Ines Tamwright", Role.FITTER),
    "petra": ("Petra Fennimoor", Role.EXAMINER),
    "oskar": ("Oskar Lindenfold", Role.EXAMINER),
    "maud": ("Maud Estringer", Role.RESPONSIBLE_ENGINEER),
    "kofi": ("Kofi Dunmarrow", Role.RESPONSIBLE_ENGINEER),
    "ada": ("Ada Quillfeather", Role.WORKS_MANAGER),
    "rolf": ("Rolf Pennyhaven", Role.TRUSTEE),
}

LEVEL = "level 2 (invented)"
AUTHORISED = {
    "petra": (
        (Kind.VISUAL, ""),
        (Kind.DIMENSIONAL, ""),
        (Kind.HYDRAULIC_TEST, ""),
        (Kind.CRACK_CHECK, Method.MAGNETIC_PARTICLE),
        (Kind.CRACK_CHECK, Method.PENETRANT),
    ),
    "oskar": (
        (Kind.VISUAL, ""),
        (Kind.DIMENSIONAL, ""),
        (Kind.THICKNESS, ""),
        (Kind.CALIBRATION, ""),
        (Kind.SET_PRESSURE, ""),
        (Kind.SPRING_TEST, ""),
        (Kind.PRESSURE_TEST, ""),
        (Kind.CRACK_CHECK, Method.MAGNETIC_PARTICLE),
        (Kind.CRACK_CHECK, Method.ULTRASONIC),
    ),
    "ines": ((AUTHORISED_FOR_GROUPS, ""),),
    "kofi": ((Kind.VISUAL, ""), (Kind.DIMENSIONAL, "")),
}


def make_cast(*, authorised_until) -> Cast:
    password = make_password(PASSWORD)  # slow on purpose, so once
    people = {username: _person(username, name, role, password) for username, (name, role) in NAMES.items()}
    Authorisation.objects.bulk_create(
        Authorisation(
            person=people[username],
            kind=kind,
            method=method,
            level=LEVEL if method else "",
            until=authorised_until,
        )
        for username, rights in AUTHORISED.items()
        for kind, method in rights
    )
    return Cast(**people)


def _person(username, name, role, password) -> Person:
    first, _, last = name.partition(" ")
    person = Person.objects.create(username=username, first_name=first, last_name=last, password=password)
    person.groups.set(Group.objects.filter(name=role))
    return person


def sign_ins() -> list[tuple[str, str, str]]:
    return [(role.value, username, PASSWORD) for username, (_, role) in NAMES.items()]
