import pytest

from tests.factories import Cast, Works, a_cast, a_works


@pytest.fixture
def people(db) -> Cast:
    return a_cast()


@pytest.fixture
def works(people) -> Works:
    return a_works(people=people)
