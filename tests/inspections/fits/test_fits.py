"""Fits on screen: both sides, the clearance, what to make of it, and setting what a pair may be."""

import re

import pytest
from django.urls import reverse

from inspections.models import Fit
from parts.domain.words import State
from tests.factories import fresh
from tests.tables import for_each

SAID = {"drawing": "125 ±5", "source": "invented sheet", "source_edition": "1"}
WANTED = {
    "kind": "running", "unit": "mm", "least": "0.1", "most": "0.2", "shop_most": "0.5 mm", "source": "invented sheet",
    "source_edition": "1",
}  # fmt: skip


@pytest.fixture
def sizes(works):
    """The journal of an axle and the bore of a brass, on their places."""
    axle = works.place(name="axle", axle="leading")
    brass = works.place(name="axlebox brass", axle="leading", side="LH")
    journal = works.dimension(axle, "LH journal diameter", limits=SAID)
    return journal, works.dimension(brass, "bore", wears="larger", limits=SAID)


@pytest.fixture
def form(sizes):
    journal, bore = sizes
    return WANTED | {"name": "journal in brass", "hole": bore.pk, "shaft": journal.pk}


@pytest.fixture
def fit(client, works, people, form):
    client.force_login(people.engineer)
    client.post(reverse("add_fit", args=[works.locomotive.slug]), form)
    return Fit.objects.with_limits().get()


def measured(works, fit, journal="125.00", bore="125.60", accept=True):
    pieces = []
    for size, typed in ((fit.shaft, journal), (fit.hole, bore)):
        place = fresh(size.position)
        piece = place.pieces.first() or works.piece(State.CLEANED, place=place)
        if piece.state == State.CLEANED:
            works.look_at(piece)
        works.measure(piece, {size: typed})
        if accept and piece.state != State.ACCEPTED:
            works.accept(piece)
        pieces.append(piece)
    return pieces


def at(name, thing):
    return reverse(name, args=[thing.pk])


def test_a_side_that_is_not_measured_says_who_measures_it_and_leads_an_examiner_there(client, works, people, fit):
    client.force_login(people.examiner)
    assert "No piece with a tag is there to be measured." in client.get(at("fit", fit)).content.decode()
    brass = works.piece(State.CLEANED, place=fresh(fit.hole.position))
    measure = reverse("measure", args=[brass.tags.current_code()])
    for who, offered in ((people.examiner, True), (people.fitter, False)):
        client.force_login(who)
        page = client.get(at("fit", fit)).content.decode()
        assert (measure in page) is offered
        assert bool(re.search(r"there\. Examiner[^.<]* measures it\.", page)) is not offered
        assert client.get(measure).status_code == (200 if offered else 403)
    measured(works, fit)
    client.force_login(people.examiner)
    assert measure not in client.get(at("fit", fit)).content.decode()


def test_a_pair_is_made_of_two_sizes_on_their_places(client, works, people, form):
    client.force_login(people.engineer)
    address = reverse("add_fit", args=[works.locomotive.slug])
    text = client.get(address).content.decode()
    assert "axlebox brass, LH, leading axle: bore" in text
    assert client.post(address, form).status_code == 302
    assert Fit.objects.get().editions.get().shop_most == 0.5


def test_an_iso_fit_has_the_clearance_of_the_standard_at_its_size(client, works, people, form):
    """ISO 286-2: 125 H7/f7 leaves 43 to 123 um."""
    client.force_login(people.engineer)
    entered = form | {"least": "", "most": "", "code": "H7/f7", "nominal": "125"}
    assert client.post(reverse("add_fit", args=[works.locomotive.slug]), entered).status_code == 302
    edition = Fit.objects.get().editions.get()
    assert (edition.least * 1000, edition.most * 1000, edition.code) == (43, 123, "H7/f7")


@for_each(
    ("change", "told"),
    [
        ({"hole": ""}, "None chosen"),
        ({"hole": "9999"}, "Choose one from the list"),
        ({"name": " "}, "Nothing was written"),
        ({"least": "a little"}, "a little"),
        ({"least": ""}, "Not both given"),
        ({"least": "0.3"}, "Change them round"),
        ({"shop_most": "0.15"}, "Narrower than as new"),
        ({"code": "H7/f7", "nominal": "125"}, "given twice"),
        ({"code": "H7/f7", "least": "", "most": ""}, "write it"),
        ({"code": "f7/H7", "nominal": "125", "least": "", "most": ""}, "as in H7/f7"),
        ({"code": "H7/f7", "nominal": "600", "least": "", "most": ""}, "500"),
        ({"nominal": "125"}, "A size without a fit"),
        ({"kind": "press"}, "has interference"),
        ({"unit": ""}, "None chosen"),
        ({"source": ""}, "Nothing was written"),
    ],
)
def test_a_refusal_names_the_field_and_keeps_what_was_typed(client, works, people, form, change, told):
    client.force_login(people.engineer)
    answer = client.post(reverse("add_fit", args=[works.locomotive.slug]), form | change)
    text = answer.content.decode()
    assert (answer.status_code, told in text) == (422, True)
    assert 'value="0.5 mm"' in text or "shop_most" in change
    assert not Fit.objects.exists()


def test_until_both_are_measured_it_says_which_is_wanting(client, works, people, fit):
    client.force_login(people.volunteer)
    text = client.get(at("fit", fit)).content.decode()
    assert "Not measured yet: axlebox brass, LH, leading axle and axle, leading axle" in text
    assert "What to make" not in text


def test_it_says_the_clearance_and_what_to_make_in_both_units(client, works, people, fit):
    """A bore of 125.6 on a journal of 125, wanted 0.1 to 0.2: so the bore has to be 125.1 to 125.2, which is smaller
    than it is; and a journal for this bore 125.4 to 125.5, which needs metal as well."""
    measured(works, fit)
    client.force_login(people.fitter)
    text = client.get(at("fit", fit)).content.decode()
    assert "0.6 mm (about 0.0236 in) clearance" in text.lower()
    assert "too slack, beyond the shop limit" in text
    assert "125.1 mm to 125.2 mm" in text
    assert "125.4 mm to 125.5 mm" in text
    assert "Bush it, or fit a new brass" in text


def test_a_good_pair_needs_nothing_made(client, works, people, fit):
    measured(works, fit, bore="125.15")
    text = client.get(at("fit", fit)).content.decode()
    assert "the pair is as wanted" in text


def test_what_is_out_comes_first_and_is_counted(client, works, people, fit, form):
    measured(works, fit)
    other = works.dimension(works.place(name="pin"), "pin", limits=SAID)
    address = reverse("add_fit", args=[works.locomotive.slug])
    client.post(address, form | {"name": "a pin", "shaft": other.pk})
    text = client.get(reverse("locomotive_fits", args=[works.locomotive.slug])).content.decode()
    assert text.index("Journal in brass") < text.index("A pin")
    assert "1 out of limits, 1 not measured yet, 0 good" in client.get(reverse("fits")).content.decode()


def test_both_pieces_and_their_places_lead_to_it(client, works, people, fit):
    pieces = measured(works, fit)
    client.force_login(people.volunteer)
    for piece in pieces:
        for address in (f"/t/{piece.tags.current_code()}", fresh(piece).place.get_absolute_url()):
            text = client.get(address).content.decode()
            assert f'href="{at("fit", fit)}"' in text
            assert "too slack" in text


def test_a_pair_out_of_limits_stops_its_subassembly(client, works, people, fit):
    measured(works, fit)
    text = client.get(reverse("subassembly", args=[works.locomotive.slug, works.frames.code])).content.decode()
    assert "out of limits with axle, leading axle" in text


def test_pairs_that_are_sure_are_proposed_and_given_one_set_of_limits(client, works, people, sizes):
    client.force_login(people.engineer)
    address = reverse("propose_fits", args=[works.locomotive.slug])
    assert "axle journal in axlebox brass, LH, leading" in client.get(address).content.decode()
    assert client.post(address, WANTED).status_code == 422
    journal, bore = sizes
    assert client.post(address, WANTED | {"pairs-0": f"{bore.pk} {journal.pk}"}).status_code == 302
    assert Fit.objects.get().hole == bore
    assert "No pair is sure" in client.get(address).content.decode()


def test_a_new_edition_and_retiring(client, works, people, fit):
    answer = client.post(at("fit_limits", fit), WANTED | {"shop_most": "1", "source_edition": "2"})
    assert answer["Location"] == at("fit", fit)
    text = client.get(at("fit", fit)).content.decode()
    assert "at most 1 mm" in text
    assert "invented sheet, 1" in text
    again = client.post(at("fit_limits", fit), WANTED | {"seen": "1"})
    assert (again.status_code, "Engineer set edition 2" in again.content.decode()) == (409, True)
    assert client.post(at("retire_fit", fit)).status_code == 302
    assert client.post(at("retire_fit", fit)).status_code == 404
    assert "no longer checked" in client.get(at("fit", fit)).content.decode()


def test_the_engineer_lets_it_run_with_a_reason_and_a_day(client, works, people, fit):
    piece, _ = measured(works, fit)
    client.force_login(people.engineer)
    page = client.get(at("concede_fit", fit))
    seen = page.context["form"]["seen"].value()
    entered = {"seen": seen, "reason": "runs light trains", "look_again": "2100-01-01"}
    assert client.post(at("concede_fit", fit), entered | {"reason": ""}).status_code == 422
    assert client.post(at("concede_fit", fit), entered).status_code == 302
    assert client.post(at("concede_fit", fit), entered).status_code == 409
    text = client.get(at("fit", fit)).content.decode()
    assert "Under a concession by Engineer: runs light trains" in text
    assert fresh(piece).place.need == ""


def test_a_concession_before_both_are_measured_is_not_to_be_had(client, people, fit):
    assert client.get(at("concede_fit", fit)).status_code == 404


def test_other_roles_strangers_wrong_methods_and_unknown(client, works, people, fit, form):
    slug = works.locomotive.slug
    client.logout()
    assert client.get(reverse("fits")).status_code == 302
    client.force_login(people.examiner)
    assert client.post(reverse("add_fit", args=[slug]), form).status_code == 403
    for name in ("fit_limits", "retire_fit", "concede_fit"):
        assert client.post(at(name, fit), WANTED).status_code == 403
    client.force_login(people.engineer)
    assert client.get(at("retire_fit", fit)).status_code == 405
    assert client.post(reverse("fits")).status_code == 405
    assert client.get(reverse("fit", args=[99999])).status_code == 404
    assert client.get(reverse("locomotive_fits", args=["nothing"])).status_code == 404
