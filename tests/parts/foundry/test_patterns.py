"""The screens of patterns, core boxes and jigs, their sums, and the figures these stand on."""

from fractions import Fraction

import pytest
from django.urls import reverse

from core.models import Event
from parts.foundry.writers.castings import add_casting
from parts.foundry.writers.patterns import add_pattern
from parts.models import Contraction, Density, Pattern
from parts.work.writers import renewals
from tests.factories import days
from tests.parts.foundry.test_patterns_writers import a_pattern, bring
from tests.parts.jobs import a_firm, a_renewal


@pytest.fixture
def fitter(client, works):
    client.force_login(works.people.fitter)
    return client


def test_it_is_entered_with_a_tag_and_its_tag_leads_to_it(fitter, works):
    entered = {"kind": "pattern", "name": "axlebox", "location": works.crate.name, "allows": "1/8 in per foot"}
    page = fitter.post(reverse("add_pattern"), entered, follow=True).content.decode()
    pattern = Pattern.objects.get()
    assert pattern.allows == str(Fraction(1, 96))
    assert "as found" in page
    tag = pattern.tags.current_code()
    assert fitter.get(reverse("tag", args=[tag])).url == pattern.get_absolute_url()
    assert "Axlebox pattern" in fitter.get(works.crate.get_absolute_url()).content.decode()


@pytest.mark.engine
def test_it_is_described_anew_and_the_event_keeps_what_was_said(fitter, works):
    pattern = a_pattern(works)
    edit = reverse("edit_pattern", args=[pattern.pk])
    shown = fitter.get(edit).context["form"].initial
    shown = {name: value for name, value in shown.items() if value not in (None, "")}
    assert fitter.post(edit, shown | {"marks": "EM 5"}).status_code == 302
    pattern.refresh_from_db()
    event = Event.objects.latest("pk")
    assert (pattern.marks, event.action, event.data["fields"]) == ("EM 5", "describe pattern", ["marks"])


def test_it_goes_from_checked_to_the_foundry_and_back_by_its_buttons(fitter, works):
    pattern, firm = a_pattern(works), a_firm(works)

    def to(slug, **entered):
        return fitter.post(
            reverse("pattern_state", args=[pattern.pk, slug]), {"remark": "looked over", **entered}, follow=True
        )

    assert to("checked").status_code == 200
    assert to("back", location=works.crate.name).status_code == 422
    assert str(firm) in to("at-the-foundry", firm=firm.pk).content.decode()
    to("back", location=works.crate.name)
    pattern.refresh_from_db()
    assert (pattern.state, pattern.location) == ("back", works.crate)


def test_castings_are_added_by_tag_and_a_strange_tag_is_refused(fitter, works):
    pattern, piece = bring(works, a_pattern(works), "checked"), works.piece()
    address = reverse("add_casting", args=[pattern.pk])
    page = fitter.post(address, {"piece": piece.tags.current_code()}, follow=True).content.decode()
    assert piece.tags.current_code() in page
    assert fitter.post(address, {"piece": piece.tags.current_code()}).status_code == 422
    assert fitter.post(address, {"piece": "no tag"}).status_code == 422


def test_a_renewal_names_its_pattern_and_shows_its_state(client, works):
    renewal = a_renewal(works)
    pattern = a_pattern(works)
    client.force_login(works.people.manager)
    client.post(reverse("choose_pattern", args=[renewal.pk]), {"pattern": pattern.pk, "seen": renewal.last_event})
    assert "as found" in client.get(renewal.get_absolute_url()).content.decode()


def test_the_pattern_of_a_foot_of_iron_is_an_eighth_longer(fitter, db):
    """1/8 in per foot (the shipped contractions name their handbooks): 12 in become 12 1/8 in."""
    row = Contraction.objects.in_force().filter(ratio="1/96").first()
    page = fitter.get(
        reverse("pattern_sums"), {"sum": "length", "finished": "12 in", "contraction": row.pk}
    ).content.decode()
    assert "12.125 in" in page


def test_an_old_pattern_is_for_steel_and_not_for_iron(fitter, db):
    """24 in finished and 24 3/8 in on the pattern: the 3/16 in per foot of Lineham p. 63 and Dooley s. 426."""
    entered = {"sum": "allowance", "pattern": "24 3/8 in", "finished": "24 in", "within": "0.002 in"}
    shown = fitter.get(reverse("pattern_sums"), entered | {"metal": "cast iron"}).content.decode()
    assert "The pattern allows for 3/16 in per foot (1 in 64" in shown
    assert "It is the allowance for brass, cast steel, malleable cast iron or tin, not for cast iron." in shown
    answer = fitter.get(reverse("pattern_sums"), entered | {"pattern": "23 in"})
    assert (answer.status_code, "which no metal needs" in answer.content.decode()) == (422, True)


def test_the_mass_of_a_casting_from_that_of_its_pattern(fitter, db):
    """Pine times 16 for cast iron, the usual multiplier, from memory: 0.45 against 7.2."""
    of, casting = (Density.objects.get(material=name).pk for name in ("yellow pine", "cast iron"))
    shown = fitter.get(reverse("pattern_sums"), {"sum": "mass", "mass": "10 kg", "of": of, "casting": casting})
    assert "The casting weighs 160 kg (about 352.7 lb)." in shown.content.decode()


def test_the_engineer_may_call_a_casting_done_all_the_same_and_the_manager_may_not(client, works):
    renewal, pattern = a_renewal(works), a_pattern(works)
    renewals.choose_pattern(renewal, pattern, works.people.manager)
    done = reverse("finish_step", args=[renewal.steps.get(name="cast it").pk])
    entered = {"done": days(0).isoformat(), "currency": "GBP", "override": "a trial"}
    for person, status in ((works.people.manager, 422), (works.people.engineer, 302)):
        client.force_login(person)
        assert ('name="override"' in client.get(done).content.decode()) == (status == 302)
        assert client.post(done, entered).status_code == status


def test_a_size_without_a_unit_is_refused_in_the_sums(fitter, db):
    asked = {"sum": "length", "finished": "12", "contraction": Contraction.objects.first().pk}
    answer = fitter.get(reverse("pattern_sums"), asked)
    assert answer.status_code == 422
    assert "“12”" in answer.content.decode()


@pytest.mark.parametrize("name", ["add_pattern", "add_contraction"])
def test_who_only_reads_reads(client, works, name):
    client.force_login(works.people.trustee)
    assert client.get(reverse(name)).status_code == 403
    assert client.get(reverse("patterns")).status_code == 200
    assert client.get(reverse("contractions")).status_code == 200
    assert client.get(reverse("pattern", args=[10**6])).status_code == 404
    client.logout()
    assert client.get(reverse("patterns")).status_code == 302


def test_queries_do_not_grow(fitter, works, django_assert_max_num_queries):
    pattern = bring(works, a_pattern(works), "checked")
    for number in range(6):
        add_casting(pattern, works.piece(), works.people.fitter)
        add_pattern(works.people.fitter, name=f"box {number}", kind="core box", goes_with=pattern)
    with django_assert_max_num_queries(12):
        fitter.get(pattern.get_absolute_url())
    with django_assert_max_num_queries(8):
        fitter.get(reverse("patterns"))
