"""The register of firms, and the evidence of what is no longer there."""

import pytest
from django.urls import reverse

from parts.domain.words import State
from parts.models import Component, Firm, Pattern, Photo
from parts.stores.writers import move
from parts.structure.writers.evidence import add_evidence
from parts.work.writers import firms
from tests.factories import days, events_of, fresh
from tests.parts.actions.standard import refused
from tests.parts.foundry.test_patterns_writers import a_pattern, bring
from tests.parts.jobs import a_firm, a_renewal, a_repair, steps_of


def test_a_firm_has_a_place_of_its_own_that_is_away(works):
    firm = a_firm(works, name="Invented Forge", does="forging", contact="ring after four")
    assert (firm.location.name, firm.location.away, firm.location.kind) == ("Invented Forge", True, "firm")
    piece = works.piece()
    move(piece, firm.location, works.people.storekeeper)
    assert fresh(piece).away_since == days(0)


@pytest.mark.parametrize("who", ["volunteer", "trustee"])
def test_how_to_reach_a_firm_is_read_by_whoever_rings_and_by_no_other(client, works, who):
    firm = a_firm(works, name="Invented Forge", contact="01632 960123")  # a number kept for fiction (Ofcom)
    for name, shown in (("manager", True), (who, False)):
        client.force_login(getattr(works.people, name))
        for address in (firm.get_absolute_url(), reverse("firms")):
            assert ("960123" in client.get(address).content.decode()) == shown


def test_it_takes_over_the_place_that_pieces_lie_at_already(works):
    there = works.firm()
    assert a_firm(works, name=there.name).location == there


def test_a_name_is_borne_once_and_a_place_in_our_works_is_none(works):
    firm = a_firm(works, name="Invented Forge")
    with refused("name"):
        a_firm(works, name="invented  forge")
    with refused("location"):
        a_firm(works, name="Another", location=works.crate)
    with refused("location"):
        a_firm(works, name="Another", location=firm.location)
    with refused("name"):
        a_firm(works, name=" ")
    with refused("name"):
        a_firm(works, name="x" * 121)


def test_only_the_works_manager_keeps_the_register(works):
    firm = a_firm(works)
    for person in (works.people.fitter, works.people.trustee, works.people.engineer):
        with refused("role"):
            firms.add_firm(person, name="Another")
        with refused("role"):
            firms.edit_firm(firm, person, name="Another")


def test_editing_keeps_what_was_said_before(works):
    firm = a_firm(works, name="Invented Forge", contact="ring")
    firms.edit_firm(firm, works.people.manager, name="Invented Forge", contact="write")
    event = events_of(firm.location).get(action="edit firm")
    assert event.data["contact"] == ["ring", "write"]


@pytest.mark.engine
def test_a_firm_with_jobs_open_is_not_retired(works):
    firm = a_firm(works)
    repair = a_repair(works, firm=firm)
    with refused("in-use"):
        firms.retire_firm(firm, works.people.manager)
    works.withdraw(repair.component)
    firms.retire_firm(firm, works.people.manager)
    assert firm not in Firm.objects.in_use()
    firms.retire_firm(firm, works.people.manager, retired=False)
    assert firm in Firm.objects.in_use()


def test_the_list_counts_what_lies_there_what_is_under_way_and_what_is_late(works):
    from parts.work.writers import steps

    firm = a_firm(works)
    move(works.piece(), firm.location, works.people.storekeeper)
    a_repair(works, firm=firm, promised=days(-2))
    first, second, *_ = steps_of(a_renewal(works))
    for step, day in ((first, days(3)), (second, days(-1))):
        steps.edit_step(step, works.people.manager, firm=firm)
        steps.promise_step(fresh(step), works.people.manager, new=day)
    Pattern.objects.create(
        name="brake block", state="at the foundry", since=days(-9), firm=firm, promised_back=days(-4)
    )
    row = Firm.objects.as_list(days(0)).get(pk=firm.pk)
    assert (row.pieces, row.under_way, row.late) == (1, 4, 3)


# --- evidence


def test_evidence_is_written_down_with_its_pictures(works):
    place, person = works.plain_place(), works.people.volunteer
    photo = Photo.objects.create(name="h", original_suffix=".jpg", position=place, width=9, height=9, by=person)
    evidence = add_evidence(place, person, kind="holes", words="four tapped holes, 2 in apart", photos=[photo])
    assert list(evidence.photos.all()) == [photo]
    assert (evidence.by, evidence.event.action) == (person, "evidence")
    assert evidence.event in events_of(place)


def test_evidence_says_of_what_kind_it_is_and_what_it_shows(works):
    place, other, person = works.plain_place(), works.plain_place(), works.people.volunteer
    photo = Photo.objects.create(name="h", original_suffix=".jpg", position=other, width=9, height=9, by=person)
    with refused("kind", "words"):
        add_evidence(place, person, kind="hearsay", words=" ")
    with refused("photos"):
        add_evidence(place, person, kind="holes", words="two", photos=[photo])
    with refused("role"):
        add_evidence(place, works.people.trustee, kind="holes", words="two")


def test_an_overdue_promise_is_overdue_on_every_page_that_tells_it(client, works):
    firm = a_firm(works)
    piece = works.piece(State.IN_THE_MAKING)
    move(piece, firm.location, works.people.storekeeper, promised_back=days(3))
    checked = bring(works, a_pattern(works), "checked")
    pattern = bring(works, checked, "at the foundry", firm=firm, promised_back=days(3))
    client.force_login(works.people.trustee)
    pages = [
        reverse("firms"), firm.get_absolute_url(), reverse("tag", args=[piece.tags.current_code()]),
        reverse("renewals", args=[works.locomotive.slug]), reverse("patterns"), pattern.get_absolute_url(),
    ]  # fmt: skip
    assert not any("overdue" in client.get(page).content.decode() for page in pages)
    Component.objects.filter(pk=piece.pk).update(promised_back=days(-9))
    Pattern.objects.filter(pk=pattern.pk).update(promised_back=days(-9))
    firms_told, *others = (client.get(page).content.decode() for page in pages)
    assert "1 overdue" in firms_told
    assert ["9 days overdue" in other for other in others] == [True] * len(others)
    assert "Nothing of ours is under way there" not in others[0]
