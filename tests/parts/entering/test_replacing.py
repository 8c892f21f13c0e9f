"""Which piece replaces which: named on the screen of the new one, and told on the pages of both."""

import pytest
from django.urls import reverse

from tests.factories import fresh

pytestmark = pytest.mark.django_db


def at(piece, name="tag") -> str:
    return reverse(name, args=[piece.tags.current_code()])


@pytest.fixture
def two(works):
    """A withdrawn piece, and one in the making for its place."""
    old = works.piece("withdrawn")
    return old, works.piece("in the making", place=old.place)


def test_both_pages_lead_to_the_other_also_where_the_old_one_is_gone(client, works, two):
    old, new = two
    client.force_login(works.people.manager)
    assert at(new, "replaces") in client.get(at(new)).content.decode()
    answer = client.post(
        at(new, "replaces"), {"replaces": old.tags.current_code(), "seen": new.last_event}, follow=True
    )
    assert f'href="{at(old)}"' in answer.content.decode()
    client.force_login(works.people.trustee)
    assert f'href="{at(new)}"' in client.get(at(old)).content.decode()


def test_a_ring_and_a_piece_replacing_itself_are_refused_with_the_mend(client, works, two):
    old, new = two
    client.force_login(works.people.manager)
    client.post(at(new, "replaces"), {"replaces": old.tags.current_code()})
    for piece, other, told in ((old, new, "replaces this piece already"), (new, new, "does not replace itself")):
        answer = client.post(at(piece, "replaces"), {"replaces": other.tags.current_code()})
        assert answer.status_code == 422
        assert told in answer.content.decode()
    assert fresh(old).replaces is None
    assert client.post(at(new, "replaces"), {"replaces": "ABCD2345"}).status_code == 422


@pytest.mark.engine
def test_naming_none_takes_it_back_and_a_late_one_is_told(client, works, two):
    old, new = two
    seen = new.last_event
    client.force_login(works.people.manager)
    client.post(at(new, "replaces"), {"replaces": old.tags.current_code(), "seen": seen})
    assert client.post(at(new, "replaces"), {"replaces": "", "seen": seen}).status_code == 409
    client.post(at(new, "replaces"), {"replaces": ""})
    assert fresh(new).replaces is None


def test_a_fitter_names_none(client, works, two):
    client.force_login(works.people.fitter)
    assert client.get(at(two[1], "replaces")).status_code == 403
    assert at(two[1], "replaces") not in client.get(at(two[1])).content.decode()
