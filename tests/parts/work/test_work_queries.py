"""The pages of routes and firms ask no more for longer routes and lists. The demo has too few steps on one route and
jobs at one firm for its crawl to tell."""

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from parts.work.writers import steps
from tests.factories import days
from tests.parts.jobs import a_firm, a_renewal, a_repair, steps_of


def test_the_pages_ask_no_more_for_longer_routes_and_lists(client, works, people):
    renewal, firm = a_renewal(works), a_firm(works)
    listed = reverse("renewals", args=[works.locomotive.slug])
    addresses = (renewal.get_absolute_url(), listed, reverse("firms"), firm.get_absolute_url())

    def more(number: int) -> None:
        step = steps.add_step(renewal, people.manager, name=f"step {number}", promised=days(3), firm=firm)
        steps.promise_step(step, people.manager, new=days(5), why="late")
        another = steps_of(a_renewal(works))[0]
        steps.edit_step(another, people.manager, firm=a_firm(works), promised=days(3))
        a_repair(works, firm=firm)

    def asked() -> list[int]:
        found = []
        for address in addresses:
            with CaptureQueriesContext(connection) as captured:
                assert client.get(address).status_code == 200
            found.append(len(captured))
        return found

    client.force_login(people.trustee)
    more(0)
    asked()
    few = asked()
    for number in (1, 2):
        more(number)
    assert asked() == few
    assert max(few) <= 20
