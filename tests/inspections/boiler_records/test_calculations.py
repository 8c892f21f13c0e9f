"""A calculation on screen: figures, formulas, what is absent, what-ifs; the answer of which is checked by pencil.

By pencil, the form of Tenn. 0800-03-03-.13: 60,000 x 0.375 x 0.7 / (30 x 4.5) = 116.67 lb/in².
"""

from fractions import Fraction

import pytest
from django.urls import reverse

from inspections.boiler_records import writers
from inspections.boilers import sources
from inspections.boilers import writers as boilers
from inspections.models import BoilerRecord
from parts.domain.plain import day
from parts.drawings.writers import drawings
from tests.factories import days, fresh

FIGURES = (
    ("strength", "stress", "60000 lb/in²"), ("thickness", "length", "9.525 mm"), ("efficiency", "number", "0.7"),
    ("radius", "length", "30 in"), ("factor", "number", "4.5"),
)  # fmt: skip
SHELL = {"use-tensile": "f1", "use-thickness": "f2", "use-efficiency": "f3", "use-radius": "f4", "use-factor": "f5"}


@pytest.fixture
def calculation(client, people, boiler):
    client.force_login(people.engineer)
    entered = {"on": days(0).isoformat(), "title": "as surveyed"}
    client.post(reverse("begin_calculation", args=[boiler.pk]), entered)
    return BoilerRecord.objects.get()


def add(client, record, figures=FIGURES):
    for name, kind, written in figures:
        entered = {"name": name, "kind": kind, "written": written, "origin": "drawing", "where": "sheet 1"}
        assert client.post(reverse("add_figure", args=[record.pk]), entered).status_code == 302


def formula(client, record, **entered):
    address = reverse("add_formula", args=[record.pk]) + "?method=shell"
    return client.post(address, {"title": "course 2", "part": "barrel and longitudinal seams"} | SHELL | entered)


def test_from_the_figures_to_the_signed_paper(client, people, calculation):
    add(client, calculation)
    assert formula(client, calculation).status_code == 302
    text = client.get(calculation.get_absolute_url()).content.decode()
    assert "Lowest of the parts calculated: 116.6 lb/in² (8.043 bar), by course 2." in text
    assert "60000 × 0.375 × 0.7 / 30" in text
    assert client.post(reverse("sign_boiler_record", args=[calculation.pk])).status_code == 302
    assert fresh(calculation).sentence.startswith("Lowest of the parts calculated: 116.6 lb/in²")
    assert client.get(reverse("calculation", args=[calculation.pk])).status_code == 404  # it is never edited


def test_it_is_accepted_only_after_a_second_person_worked_it_again(client, people, calculation):
    add(client, calculation)
    formula(client, calculation)
    writers.sign(calculation, people.engineer)
    entered = {"who": "C. P.", "reference": "letter 2"}
    answer = client.post(reverse("file_acceptance", args=[calculation.pk]), entered)
    assert (answer.status_code, "Let a second person work it again" in answer.content.decode()) == (422, True)
    writers.check(calculation, people.examiner)
    assert client.post(reverse("file_acceptance", args=[calculation.pk]), entered).status_code == 302


def test_each_figure_says_what_it_is_and_where_it_came_from(client, calculation):
    answer = client.post(reverse("add_figure", args=[calculation.pk]), {"name": "t"})
    assert (answer.status_code, answer.content.decode().count("Enter it here.")) == (
        422,
        8,
    )  # each in the list above, and beside its field


def test_a_figure_comes_from_a_survey_and_is_told_when_that_is_superseded(client, people, calculation, survey):
    """By hand: 12.4 mm read, the gauge wrong by 0.1 mm: a pressure rests on 12.3 mm."""
    read = writers.sign(survey(), people.examiner)
    uncertain = fresh(read).entered["uncertainty"]
    rests = f"{12.4 - float(Fraction(uncertain)):.2f} mm"
    add(client, calculation, FIGURES[:1] + FIGURES[2:])
    link = {"name": "thickness", "link": f"record:{read.pk}:foot"}
    assert client.post(reverse("add_figure", args=[calculation.pk]), link).status_code == 302
    figure = fresh(calculation).entered["figures"][-1]
    assert [figure[name] for name in ("written", "kind", "origin")] == [rests, "length", "survey point"]
    uses = {"use-tensile": "f1", "use-thickness": "f5", "use-efficiency": "f2", "use-radius": "f3", "use-factor": "f4"}
    formula(client, calculation, **uses)
    writers.sign(calculation, people.engineer)
    again = writers.begin(
        read.boiler, people.volunteer, kind=read.kind, title=read.title, on=read.on, entered=read.entered,
        part=read.part, instrument=read.instrument, supersedes=read,
    )  # fmt: skip
    told = f"Record {read.pk} is superseded by record {again.pk}"
    assert told not in client.get(calculation.get_absolute_url()).content.decode()
    writers.sign(again, people.examiner)
    assert told in client.get(calculation.get_absolute_url()).content.decode()
    assert "Calculate “as surveyed” again" in client.get(read.boiler.get_absolute_url()).content.decode()


def test_a_pressure_allowed_above_the_last_calculation_stands_against_the_boiler(client, people, calculation):
    """116.6 lb/in² by pencil."""
    add(client, calculation)
    formula(client, calculation)
    writers.sign(calculation, people.engineer)
    for pressure, told in (("116 lb/in²", False), ("117 lb/in²", True)):
        entry = {"kind": "pressure allowed", "on": days(0), "words": "x", "pressure": pressure, "reference": "letter 5"}
        boilers.enter(calculation.boiler, people.engineer, **entry)
        text = client.get(calculation.boiler.get_absolute_url()).content.decode()
        assert ("is allowed, and “as surveyed”" in text) == told


def test_a_later_issue_of_its_drawing_is_told(people, works, boiler, django_assert_num_queries):
    engineer, letter = people.engineer, {"kind": "paper", "on": days(0), "words": "x", "reference": "letter 14"}
    drawing = drawings.add_drawing(engineer, number="GA 742", title="Boiler", issue="A")
    drawings.good_for(drawing, engineer, how="on the drawing", locomotive=works.locomotive)
    entry = boilers.enter(boiler, engineer, **letter)
    found = {one.link: one.words for one in sources.offered(boiler)}
    assert found == {
        f"drawing:{drawing.pk}": "drawing GA 742, issue A: Boiler",
        f"entry:{entry.pk}": f"letter 14, paper of {day(days(0))}",
    }
    figures = [{"key": f"f{n}", "name": "t", "link": link} for n, link in enumerate(found)]
    assert sources.overtaken(figures, sources.linked(figures)) == []
    drawings.add_drawing(engineer, number="GA 742", title="Boiler", issue="B")
    with django_assert_num_queries(3):
        told = sources.overtaken(figures, sources.linked(figures))
    assert told == ["Take t [f0] again: drawing GA 742, issue A has a later issue, B."]


def test_a_formula_takes_figures_of_its_kind_only(client, calculation):
    add(client, calculation)
    assert formula(client, calculation, **{"use-thickness": "f1"}).status_code == 422
    assert formula(client, calculation, **{"use-thickness": ""}).status_code == 422
    assert client.get(reverse("add_formula", args=[calculation.pk]) + "?method=none").status_code == 404


def test_a_figure_is_corrected_and_a_row_taken_out(client, calculation):
    add(client, calculation)
    formula(client, calculation)
    entered = {"name": "thickness", "kind": "length", "written": "1/2 in", "origin": "drawing", "where": "sheet 1"}
    client.post(reverse("add_figure", args=[calculation.pk]) + "?figure=f2", entered)
    assert "155.5 lb/in²" in client.get(calculation.get_absolute_url()).content.decode()  # 116.67 x 4 / 3
    client.post(reverse("take_out", args=[calculation.pk]), {"of": "figures", "which": "f2"})
    assert "there is no input or earlier line" in client.get(calculation.get_absolute_url()).content.decode()
    assert client.post(reverse("take_out", args=[calculation.pk]), {"of": "all"}).status_code == 404


def test_what_the_boiler_has_not_and_what_if(client, calculation):
    add(client, calculation)
    formula(client, calculation)
    client.post(reverse("leave_out", args=[calculation.pk]), {"part": "dome", "reason": "none was made"})
    what_if = reverse("add_what_if", args=[calculation.pk])
    assert client.post(what_if, {"name": "nothing changed"}).status_code == 422
    assert client.post(what_if, {"name": "patch", "if-f2": "half"}).status_code == 422
    assert client.post(what_if, {"name": "patch", "if-f2": "1/2 in"}).status_code == 302
    text = client.get(calculation.get_absolute_url()).content.decode()
    assert "Not there: dome, none was made." in text
    assert "What if: patch" in text
    assert "155.5 lb/in² (governs)" in text


@pytest.mark.parametrize("name", ["calculation", "add_figure", "leave_out", "add_what_if"])
def test_who_may(client, people, calculation, name):
    address = reverse(name, args=[calculation.pk])
    assert client.get(address).status_code == 200
    assert client.put(address).status_code == 405
    client.force_login(people.trustee)
    assert client.get(address).status_code == 403


def test_two_who_add_a_figure_at_once_both_keep_theirs(client, people, calculation):
    stale = BoilerRecord.objects.get(pk=calculation.pk)
    add(client, calculation, FIGURES[:1])
    writers.change(stale, people.engineer, lambda before: {"figures": [*before["figures"], {"key": "f2"}]})
    assert [one["key"] for one in fresh(calculation).entered["figures"]] == ["f1", "f2"]


def test_published_strengths_are_told_with_their_clause(client, calculation):
    """55,000 lb/in² for steel of unknown strength: COMAR 09.12.01.22; 50,000: 49 CFR 230.26, from memory."""
    text = client.get(reverse("calculation", args=[calculation.pk])).content.decode()
    assert "55000 lb/in²" in text
    assert "230.26 (from memory)" in text
