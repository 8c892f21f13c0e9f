"""What readiness is told of the boilers of a locomotive."""

from django.urls import reverse

from inspections.boilers import writers
from inspections.boilers.boiler_context import boilers_of
from tests.factories import days


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
    client.force_login(people.engineer)
    assert "Due by the written scheme: Shell" in client.get("/").content.decode()


def test_a_locomotive_without_a_boiler_asks_once(works, django_assert_num_queries):
    with django_assert_num_queries(1):
        assert boilers_of(works.locomotive, days(0)) == []
