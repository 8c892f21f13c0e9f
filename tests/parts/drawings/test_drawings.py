"""The screens of the register of drawings."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from parts.actions import writing
from parts.drawings.writers import drawings
from parts.finding import finding
from parts.models import Conflict, Drawing
from tests.parts.drawings.test_drawings_writers import a_drawing

SCAN = b"%PDF-1.4 invented"


@pytest.fixture
def fitter(client, works):
    client.force_login(works.people.fitter)
    return client


def test_it_is_entered_from_a_place_with_its_number_and_its_scan(fitter, works):
    place = works.plain_place(drawing="742/31")
    address = f"{reverse('add_drawing')}?position={place.pk}"
    assert f'href="{address}"' in fitter.get(place.get_absolute_url()).content.decode()
    assert "742/31" in fitter.get(address).content.decode()
    scan = SimpleUploadedFile("742-31.pdf", SCAN)
    entered = {"number": "742/31", "title": "sandbox", "dated": "1911-03-31", "scan": scan}
    made = fitter.post(address, entered, follow=True)
    page = made.content.decode()
    assert "31 Mar 1911" in page
    assert place.words.capitalize() in page
    assert Drawing.objects.get().papers.count() == 1
    assert "742/31" in fitter.get(place.get_absolute_url()).content.decode()


def test_what_is_wrong_is_said_beside_its_field_and_nothing_is_lost(fitter, works):
    a_drawing(works, "742/31")
    answer = fitter.post(reverse("add_drawing"), {"number": "742 31", "title": "sandbox", "dated": "soon"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "is no date" in page
    assert 'value="sandbox"' in page


def test_good_for_is_added_and_taken_out_on_its_page(fitter, works):
    drawing = a_drawing(works)
    entered = {"locomotive": works.locomotive.pk, "how": "from a note on it", "note": "pencilled, 1934"}
    page = fitter.post(reverse("drawing_good_for", args=[drawing.pk]), entered, follow=True).content.decode()
    assert "from a note on it: pencilled, 1934" in page
    assert fitter.post(reverse("drawing_good_for", args=[drawing.pk]), entered).status_code == 422
    row = drawing.good_for.get()
    fitter.post(reverse("not_good_for", args=[drawing.pk, row.pk]))
    assert not drawing.good_for.exists()


@pytest.mark.engine
def test_a_place_is_shown_by_one_of_several_sheets(fitter, works):
    place = works.plain_place()
    for sheet in ("1", "2"):
        a_drawing(works, "742/31", sheet=sheet)
    address = reverse("show_place", args=[place.pk])
    several = fitter.post(address, {"number": "742 31"})
    assert several.status_code == 422
    assert "Several have that number" in several.content.decode()
    fitter.post(address, {"number": "742/31, sheet 2"})
    assert place.drawings.get().sheet == "2"
    fitter.post(reverse("show_place_not", args=[place.drawings.get().pk, place.pk]))
    assert not place.drawings.exists()


def test_drawings_that_disagree_stand_side_by_side_and_the_engineer_settles_it(client, fitter, works):
    place, first, second = works.plain_place(), a_drawing(works), a_drawing(works, "GW 208")
    for drawing in (first, second):
        drawings.show_place(drawing, place, works.people.fitter)
    entered = {"about": "bore", f"says_{first.pk}": "15 in", f"says_{second.pk}": "15 1/2 in"}
    page = fitter.post(reverse("note_conflict", args=[place.pk]), entered, follow=True).content.decode()
    assert "15 1/2 in" in page
    assert "Not settled" in page
    conflict = Conflict.objects.get()
    address = reverse("settle_conflict", args=[conflict.pk])
    assert fitter.get(address).status_code == 403
    client.force_login(works.people.engineer)
    client.post(address, {"settled": "Measured: 15 in.", "rests_on": first.pk})
    assert "(this holds)" in client.get(second.get_absolute_url()).content.decode()


@pytest.mark.engine
def test_the_list_is_narrowed_and_finding_knows_them(fitter, works):
    good, other = a_drawing(works, "742/31", title="sandbox"), a_drawing(works, "GW 9", title="chimney")
    drawings.good_for(good, works.people.fitter, locomotive=works.locomotive, how="on the drawing")
    drawings.add_scan(other, works.people.fitter, SimpleUploadedFile("a.pdf", SCAN))
    address = reverse("drawings")

    def listed(**asked):
        return [each.title for each in fitter.get(address, asked).context["page_obj"].object_list]

    assert listed() == ["sandbox", "chimney"]
    assert listed(q="742 31") == listed(**{"for": works.locomotive.slug}) == listed(unscanned="1") == ["sandbox"]
    assert listed(q="nothing") == []
    (group,) = finding.find("742/31", writing.today(), most=3).groups
    assert (group.kind, group.rows[0].title) == ("drawing", "742/31: sandbox")


@pytest.mark.parametrize("name", ["add_drawing", "edit_drawing", "show_place", "note_conflict"])
def test_a_volunteer_reads_only(client, works, name):
    drawing, place = a_drawing(works), works.plain_place()
    client.force_login(works.people.volunteer)
    pk = {"edit_drawing": drawing.pk, "add_drawing": None}.get(name, place.pk)
    assert client.get(reverse(name, args=[pk] if pk else [])).status_code == 403
    assert client.get(drawing.get_absolute_url()).status_code == 200
    assert client.get(reverse("drawing", args=[10**6])).status_code == 404


def test_a_stranger_is_sent_to_sign_in(client, works):
    assert client.get(a_drawing(works).get_absolute_url()).status_code == 302
