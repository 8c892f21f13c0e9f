"""The page of what sets most free: heaps to tick, what they would change, and in how many queries."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from core.models import Event
from parts.models import Subassembly
from tests.factories import a_works
from tests.parts.a_half_done_works import half_done

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    works = a_works()
    half_done(works)
    return works


def page(client, works, **asked):
    client.force_login(works.people.manager)
    return client.get(reverse("sets_free", args=[works.locomotive.slug]), asked)


def test_ticked_heaps_say_what_they_would_change_and_write_nothing(client, works):
    sorts = page(client, works).context["sorts"]
    assert {"Cleaning day", "Measuring day"} <= {sort.heading for sort in sorts}
    values = [row.value for sort in sorts for row in (*sort.rows, *sort.more)]
    assert len(values) == len(set(values))
    before = Event.objects.newest_number()
    answer = page(client, works, do=values)
    assert "and nothing more is found" in answer.context["change"]
    assert answer.content.decode().count("checked") == len(values)
    assert Event.objects.newest_number() == before


def test_a_choice_that_is_none_changes_nothing(client, works):
    assert "change" not in page(client, works, do=["0:clean", "x"]).context


def test_a_stranger_signs_in_and_a_loop_is_told(client, works):
    assert client.get(reverse("sets_free", args=[works.locomotive.slug])).status_code == 302
    assert client.get(reverse("sets_free", args=["none"])).status_code == 302
    one, other = (
        Subassembly.objects.create(locomotive=works.locomotive, code=code, name=code, sequence=9) for code in "xy"
    )
    one.goes_on_after.create(after=other)
    other.goes_on_after.create(after=one)
    assert "goes on after" in page(client, works).context["loop"]


def test_queries_do_not_grow_with_the_places(client, works):
    counts = []
    for _ in range(2):
        page(client, works)
        with CaptureQueriesContext(connection) as asked:
            page(client, works)
        counts.append(len(asked))
        for _ in range(3):
            works.plain_place()
    assert counts[0] == counts[1] <= 40
