"""Estimated, ordered, paid: exact, with what failed, and what changed since a day."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from parts.money.money_context import money_context
from parts.work.writers.repairs import edit_repair
from parts.work.writers.steps import edit_step, fail_step
from tests.factories import days
from tests.parts.jobs import a_firm, a_renewal, a_repair, steps_of


def address(works):
    return reverse("money", args=[works.locomotive.slug])


def sums(sheet):
    return [(sum.currency, sum.estimate, sum.committed, sum.actual) for sum in sheet.total]


def sheet_of(works, since=None):
    return money_context(works.locomotive, since or days(0))


@pytest.mark.engine
def test_a_trustee_reads_the_sums(client, works):
    a_repair(works, estimate=Decimal("1234.10"))
    a_repair(works, estimate=Decimal("0.20"))
    client.force_login(works.people.trustee)
    page = client.get(address(works)).content.decode()

    assert "1,234.30" in page
    assert "Frames" in page


def test_currencies_are_never_added_together(works):
    a_repair(works, estimate=Decimal("10.10"))
    a_repair(works, actual=Decimal("7.05"), currency="EUR")

    nothing = Decimal(0)
    assert sums(sheet_of(works)) == [
        ("EUR", nothing, nothing, Decimal("7.05")),
        ("GBP", Decimal("10.10"), nothing, nothing),
    ]


@pytest.mark.engine
def test_what_a_failed_step_cost_stays_and_what_it_is_made_again_for_is_told(works):
    step = steps_of(a_renewal(works))[0]
    edit_step(step, works.people.manager, estimate=Decimal("300.00"))
    fail_step(step, works.people.manager, reason="cold shut", back_to=step, actual=Decimal("280.40"))
    sheet = sheet_of(works)

    assert sums(sheet) == [("GBP", Decimal("600.00"), Decimal(0), Decimal("280.40"))]
    assert sheet.differences == sums(sheet)


def test_what_changed_adds_up_to_the_sums_where_everything_changed_since(works):
    repair = a_repair(works, estimate=Decimal("400.00"))
    edit_repair(repair, works.people.fitter, estimate=Decimal("450.25"), committed=Decimal("449.99"))
    sheet = sheet_of(works)

    assert sheet.differences == sums(sheet)
    assert [(one.old, one.new) for one in sheet.changes[0].moved] == [
        (Decimal("400.00"), Decimal("450.25")),
        (None, Decimal("449.99")),
    ]


def test_a_sum_that_was_in_another_currency_leaves_that_one(works):
    repair = a_repair(works, estimate=Decimal("400.00"), actual=Decimal("3.20"))
    edit_repair(repair, works.people.fitter, currency="EUR", actual=Decimal("3.90"))
    sheet = sheet_of(works)

    nothing = Decimal(0)
    assert sums(sheet) == [("EUR", Decimal("400.00"), nothing, Decimal("3.90"))]
    assert sheet.differences == [*sums(sheet), ("GBP", nothing, nothing, nothing)]


def test_nothing_changed_since_tomorrow(works):
    a_repair(works, estimate=Decimal("5.00"))

    assert sheet_of(works, days(1)).changes == []


def test_its_queries_do_not_grow_with_the_jobs(works):
    """The demo has too few repairs, none of them at a firm, for its crawl to tell."""

    def queries() -> int:
        with CaptureQueriesContext(connection) as taken:
            sheet_of(works)
        return len(taken)

    def costed() -> None:
        a_repair(works, estimate=Decimal("5.00"), firm=a_firm(works))
        edit_step(steps_of(a_renewal(works))[0], works.people.manager, estimate=Decimal("3.00"), firm=a_firm(works))

    costed()
    before = queries()
    for _ in range(2):
        costed()
    assert queries() == before <= 5


def test_a_day_that_is_none_is_told_with_the_field_and_the_mend(client, works):
    client.force_login(works.people.trustee)
    answer = client.get(address(works), {"since": "last week"})

    assert answer.status_code == 422
    assert "What changed since: write the day as" in answer.content.decode()


def test_nothing_is_sent_to_it(client, works):
    client.force_login(works.people.manager)
    assert client.post(address(works)).status_code == 405


def test_a_stranger_signs_in_first(client, works):
    assert client.get(address(works)).status_code == 302


def test_what_it_is_made_of_adds_up_to_the_sums_and_each_firm_has_its_own(client, works):
    firm = a_firm(works, name="Ulmshaw Foundry")
    repair = a_repair(works, firm=firm, estimate=Decimal("400.00"), committed=Decimal("380.00"))
    a_repair(works, estimate=Decimal("20.50"))
    a_repair(works)  # nobody wrote a sum down
    sheet = sheet_of(works)
    assert sum(job.money.estimate for job in sheet.made_of) == sheet.total[0].estimate == Decimal("420.50")
    assert [(name, money.committed) for name, money in sheet.by_firm] == [("Ulmshaw Foundry", Decimal("380.00"))]
    client.force_login(works.people.trustee)
    page = client.get(address(works)).content.decode()
    assert f'href="{repair.get_absolute_url()}"' in page
    assert "What it is made of: 2" in page
