"""What readiness is told of the boilers of a locomotive."""

import pytest
from django.urls import reverse

from inspections.boilers import writers
from inspections.boilers.boiler_context import boilers_of
from inspections.domain.boiler_status import next_due
from tests.factories import days


@pytest.mark.engine
def test_readiness_says_what_is_due_and_owed(client, works, people, django_assert_num_queries):
    entered = {"number": "B-1", "regime": "other", "body": "a body (invented)", "wanted": "180 lb/in²"}
    boiler = writers.add_boiler(people.engineer, locomotive=works.locomotive, **entered)
    row = {"nature": "cold", "months": 12, "by": "C. P."}
    writers.put_row(boiler, people.engineer, item="Shell", last=days(-400), **row)
    writers.put_row(boiler, people.engineer, item="Valves", last=days(-4), **row)
    entered = {"kind": "pressure lowered", "on": days(0), "words": "x", "pressure": "150 psi", "reference": "l"}
    writers.enter(boiler, people.engineer, **entered)
    with django_assert_num_queries(4):
        (now,) = boilers_of(works.locomotive, days(0))
    assert [sentence.partition(":")[0] for sentence in now.sentences] == [
        "Due by the written scheme",
        "To do",
        "To do",
    ]
    client.force_login(people.trustee)
    text = client.get(works.locomotive.get_absolute_url()).content.decode()
    assert "Due by the written scheme: Shell" in text
    assert "Valves" not in text
    assert reverse("boiler", args=[boiler.pk]) in text


def test_what_is_due_comes_first_in_the_engineers_list_and_once(client, works, people):
    works.piece()  # there is a list
    entered = {"number": "B-1", "regime": "other", "body": "a body (invented)", "wanted": "180 lb/in²"}
    boiler = writers.add_boiler(people.engineer, locomotive=works.locomotive, **entered)
    row = {"nature": "cold", "by": "C. P."}
    writers.put_row(boiler, people.engineer, item="Shell", last=days(-400), months=12, **row)
    writers.put_row(boiler, people.engineer, item="Valves", last=days(-4), months=12, **row)
    late = (days(0) - next_due(days(-400), 12)).days
    for who, address in (
        ("engineer", "/"),
        ("engineer", "/next/"),
        ("manager", f"/l/{works.locomotive.slug}/next/?for=responsible+engineer"),
    ):
        client.force_login(getattr(people, who))
        answer = client.get(address, follow=True)
        first = (answer.context.get("rows") or answer.context["todo"].rows)[0]
        assert (first.words, first.need, first.days_late) == ("Boiler B-1: Shell: cold", "boiler due", late)
        assert first.href == boiler.get_absolute_url()
        assert ("you" if who == "engineer" else str(people.engineer)) in first.who
        text = answer.content.decode()
        assert text.count("Shell: cold") == 1
        assert f"{late} days overdue" in text
        assert "Valves" not in text
    client.force_login(people.volunteer)
    assert "Shell: cold" not in client.get("/next/", follow=True).content.decode()


def test_a_locomotive_without_a_boiler_asks_once(works, django_assert_num_queries):
    with django_assert_num_queries(1):
        assert boilers_of(works.locomotive, days(0)) == []
