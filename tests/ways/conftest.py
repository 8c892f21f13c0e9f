from functools import cache

import pytest

from tests.ways import scenery
from tests.without_scripts import PlainPerson


@pytest.fixture
def works(db):
    return scenery.build()


@pytest.fixture
def people(works):
    """Everybody, signed in when first asked for: people("manager")."""

    @cache
    def named(name: str) -> PlainPerson:
        person = PlainPerson()
        person.sign_in(name)
        return person

    return named
