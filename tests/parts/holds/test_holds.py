"""Hold points on screen: set by the responsible engineer, released on a paper."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from core.models import Event
from parts.actions import writing
from parts.models import HoldPoint
from tests.factories import fresh
from tests.parts.jobs import a_renewal, steps_of
from tests.tables import for_each

SAID = {"name": "Design accepted", "body": "the inspecting body", "stops-0": "clean", "subassembly": "", "position": ""}


def at(name, works):
    return reverse(name, args=[works.locomotive.slug])


def set_hold(client, works, **entered):
    client.force_login(works.people.engineer)
    return client.post(at("add_hold", works), SAID | entered)


def test_a_hold_on_a_place_stops_its_piece_and_leads_its_needs(client, works, people):
    piece = works.piece()
    assert set_hold(client, works, position=piece.place_id).status_code == 302
    piece.place.refresh_from_db()
    assert piece.place.need == "release"
    client.force_login(people.volunteer)
    answer = client.post(
        reverse("tag", args=[piece.tags.get().code]) + "/do/clean",
        {"method": "paraffin", "seen": fresh(piece).last_event},
    )
    assert answer.status_code == 422
    assert "the inspecting body must release it" in answer.content.decode()
    assert fresh(piece).state == "stripped"


def test_one_on_the_whole_overhaul_stops_everything_it_names(client, works):
    piece = works.piece()
    set_hold(client, works)
    with pytest.raises(Exception, match="Design accepted"):
        works.clean(piece)


def test_a_release_lets_the_work_go_on(client, works, people):
    piece = works.piece()
    set_hold(client, works, position=piece.place_id)
    hold = HoldPoint.objects.get()
    answer = client.post(reverse("release_hold", args=[hold.pk]), {"reference": "Letter 26/7", "filed": "boiler file"})
    assert answer.status_code == 302
    hold.refresh_from_db()
    assert (hold.released_by, hold.released_on, hold.reference) == (people.engineer, writing.today(), "Letter 26/7")
    works.clean(piece)
    assert fresh(piece).state == "cleaned"


@pytest.mark.engine
def test_that_it_was_asked_for_is_noted_with_the_day_which_is_not_to_come(client, works):
    set_hold(client, works)
    hold = HoldPoint.objects.get()
    ask = reverse("ask_release", args=[hold.pk])
    assert client.post(ask, {"asked_on": writing.today() + timedelta(1)}).status_code == 422
    assert fresh(hold).asked_on is None
    answer = client.post(ask, {"asked_on": writing.today() - timedelta(2)}, follow=True)
    assert "was asked to release" in answer.content.decode()
    assert fresh(hold).asked_on == writing.today() - timedelta(2)
    assert Event.objects.latest("pk").action == "ask for release"


def test_a_release_without_a_paper_is_refused(client, works):
    set_hold(client, works)
    hold = HoldPoint.objects.get()
    answer = client.post(reverse("release_hold", args=[hold.pk]), {"reference": " ", "conditions": "none so far"})
    assert answer.status_code == 422
    text = answer.content.decode()
    assert "Give the number or date of the paper" in text
    assert "none so far" in text


def test_it_is_released_once(client, works):
    set_hold(client, works)
    address = reverse("release_hold", args=[HoldPoint.objects.get().pk])
    client.post(address, {"reference": "Letter 26/7", "filed": "boiler file"})
    answer = client.post(address, {"reference": "Letter 26/8", "filed": "boiler file"})
    assert answer.status_code == 422
    assert "already" in answer.content.decode()
    assert HoldPoint.objects.get().reference == "Letter 26/7"


@pytest.mark.parametrize(("days", "status"), [(-1, 422), (0, 302), (1, 302)])
def test_a_release_is_good_until_today_or_later(client, works, days, status):
    set_hold(client, works)
    until = writing.today() + timedelta(days=days)
    address = reverse("release_hold", args=[HoldPoint.objects.get().pk])
    assert (
        client.post(address, {"reference": "L 1", "filed": "boiler file", "expires": until.isoformat()}).status_code
        == status
    )


@for_each("wrong", [{"name": ""}, {"body": ""}, {"stops-0": ""}, {"stops-0": "lunch"}, {"asked_on": "soon"}])
def test_a_half_said_hold_is_refused(client, works, wrong):
    assert set_hold(client, works, **wrong).status_code == 422
    assert not HoldPoint.objects.exists()


def test_who_may_and_who_may_not(client, works, people):
    assert client.get(at("holds", works)).status_code == 302
    for person in (people.fitter, people.manager, people.trustee):
        client.force_login(person)
        assert client.get(at("holds", works)).status_code == 200
        assert client.post(at("add_hold", works), SAID).status_code == 403
    assert not HoldPoint.objects.exists()


def test_the_page_says_who_decides_what_applies(client, works, people):
    client.force_login(people.trustee)
    assert "the competent person and the local code decide" in client.get(at("holds", works)).content.decode()


def test_a_body_from_outside_gives_a_paper(client, works):
    """Either the scan, which is kept and shown, or where it is filed."""
    set_hold(client, works)
    address = reverse("release_hold", args=[HoldPoint.objects.get().pk])
    answer = client.post(address, {"reference": "Letter 26/7"})
    assert answer.status_code == 422
    assert "Add the scan, or say where the paper is filed." in answer.content.decode()
    letter = SimpleUploadedFile("letter.pdf", b"%PDF-1.4 invented letter")
    assert client.post(address, {"reference": "Letter 26/7", "paper": letter}).status_code == 302
    [kept] = HoldPoint.objects.get().papers.all()
    shown = client.get(kept.get_absolute_url())
    assert (b"".join(shown.streaming_content), shown["Content-Type"]) == (
        b"%PDF-1.4 invented letter",
        "application/pdf",
    )


@pytest.mark.parametrize("content", [b"", b"<svg onload=alert(1)>", b"MZ a program"])
def test_what_is_no_paper_is_refused_by_name_and_nothing_is_kept(client, works, content):
    set_hold(client, works)
    address = reverse("release_hold", args=[HoldPoint.objects.get().pk])
    answer = client.post(address, {"reference": "L 1", "paper": SimpleUploadedFile("letter.pdf", content)})
    assert answer.status_code == 422
    assert HoldPoint.objects.get().released_on is None


def test_the_hold_points_of_a_pressure_vessel_are_set_together(client, works):
    client.force_login(works.people.engineer)
    address = reverse("add_holds", args=[works.locomotive.slug, "pressure-vessel"])
    entered = {"body": "Invented Inspecting Body", "subassembly": works.frames.pk, "wanted": ["1", "4", "5", "6"]}
    assert (
        client.post(address, {**entered, **{f"wanted-{n}": v for n, v in enumerate(entered["wanted"])}}).status_code
        == 302
    )
    assert [hold.name for hold in HoldPoint.objects.order_by("id")] == [
        "Design accepted", "Stage inspections", "Hydraulic test witnessed", "Steam test",
    ]  # fmt: skip


def test_a_step_of_a_renewal_is_held_from_its_page_with_a_line_of_a_template(client, works):
    renewal = a_renewal(works)
    step = steps_of(renewal)[0]
    client.force_login(works.people.engineer)
    address = f"{reverse('add_hold', args=[works.locomotive.slug])}?step={step.pk}"
    assert address in client.get(renewal.get_absolute_url()).content.decode()
    page = client.get(f"{address}&line=pressure-vessel-1")
    assert page.context["form"].initial["stops"] == ["finish the step"]
    assert 'value="Design accepted"' in page.content.decode()
    entered = {"name": "Design accepted", "body": "the inspecting body", "step": step.pk}
    boxes = [box for box in page.context["form"]["stops"] if box.data["value"] == "finish the step"]
    entered |= {boxes[0].data["name"]: "finish the step"}
    answer = client.post(address, entered, follow=True)
    assert answer.redirect_chain[-1][0] == renewal.get_absolute_url()
    assert "until the inspecting body releases it" in answer.content.decode()
    assert client.get(f"{address}x&line=none").status_code == 200


# --- a release by mistake


@pytest.fixture
def released(client, works):
    piece = works.piece()
    set_hold(client, works, position=piece.place_id)
    hold = HoldPoint.objects.get()
    client.post(reverse("release_hold", args=[hold.pk]), {"reference": "Letter 26/7", "filed": "boiler file"})
    hold.refresh_from_db()
    return hold


def strike(client, hold, person, reason="Entered on the wrong hold point"):
    client.force_login(person)
    return client.post(reverse("strike_release", args=[hold.pk]), {"reason": reason})


@pytest.mark.parametrize("who", ["engineer", "manager"])
def test_a_release_by_mistake_is_struck_the_hold_stands_again_and_both_stay_on_record(client, works, released, who):
    assert strike(client, released, getattr(works.people, who)).status_code == 302
    released.refresh_from_db()
    assert released.stops_on(writing.today())
    assert (released.releases.get().reference, released.lapsed_by.action) == ("Letter 26/7", "strike release")
    with pytest.raises(Exception, match="Design accepted"):
        works.clean(released.position.pieces.get())
    page = client.get(at("holds", works)).content.decode()
    assert "Entered on the wrong hold point" in page
    assert "Released before" in page
    set_again = {"reference": "Letter 26/9", "filed": "boiler file"}
    client.force_login(works.people.engineer)
    assert client.post(reverse("release_hold", args=[released.pk]), set_again).status_code == 302


def test_a_release_is_struck_once_with_a_reason_and_by_the_office(client, works, released):
    for person in (works.people.volunteer, works.people.fitter, works.people.examiner, works.people.trustee):
        assert strike(client, released, person).status_code == 403
    assert strike(client, released, works.people.engineer, " ").status_code == 422
    assert strike(client, released, works.people.engineer).status_code == 302
    assert strike(client, released, works.people.engineer).status_code == 422
    assert client.put(reverse("strike_release", args=[released.pk])).status_code == 405


@pytest.mark.engine
def test_the_same_paper_on_other_places_is_struck_with_it(client, works, released):
    piece = works.piece()
    set_hold(client, works, position=piece.place_id)
    other = HoldPoint.objects.exclude(pk=released.pk).get()
    client.post(reverse("release_hold", args=[other.pk]), {"reference": "Letter 26/7", "filed": "boiler file"})
    entered = {"reason": "Wrong survey", "with_alike": "on"}
    assert client.post(reverse("strike_release", args=[released.pk]), entered).status_code == 302
    other.refresh_from_db()
    assert other.stops_on(writing.today())
