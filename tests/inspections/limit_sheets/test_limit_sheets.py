"""Limit sheets on screen: what they say, giving places their limits, and a railway's own, whole or not at all."""

import csv
from fractions import Fraction

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inspections.domain.own_sheets import read_sheet
from inspections.fits.writers import add_fit
from inspections.limit_sheets.writers import ship
from inspections.models import Dimension, LimitSheet
from tests.tables import for_each

INCH = Fraction(127, 5)
OWN = """position,letter,dimension,unit,drawing size,shop limit,scrapping limit,wears,limit itself,clause,source
Driving axle,A,journal diameter,in,5 in +0.000 -0.002,4 7/8,4 3/4,smaller,passes,4.2,Sheet 7
Axlebox brass,B,bore,mm,127.1 ±0.05,128,129,larger,fails,4.3,Sheet 7
"""
ABOUT = {
    "name": "Wheel limits",
    "edition": "issue 3",
    "source": "the invented railway",
    "jurisdiction": "Branch line only.",
}


@pytest.fixture
def sheet(works):
    return ship()


@pytest.fixture
def axle(works):
    return works.place(name="axle", axle="leading")


def row(sheet, clause, words=""):
    return sheet.rows.filter(clause=clause, item__contains=words).first()


def give(row):
    return reverse("attach_row", args=[row.pk])


def a_file(text=OWN):
    return SimpleUploadedFile("ours.csv", text.encode(), content_type="text/csv")


def test_the_published_sheet_is_told_as_law_of_its_country(client, people, sheet):
    client.force_login(people.volunteer)
    assert "United States law" in client.get(reverse("limit_sheets")).content.decode()
    text = client.get(reverse("limit_sheet", args=[sheet.pk])).content.decode()
    for words in ("United States law", "230.98(a)(6)", "Fails at 1/2 in (12.7 mm) and over", "exactly on it passes"):
        assert words in text
    assert "Give it" not in text


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("load=38000", "5 in (127 mm)"),
        ("load=30001&centre=50", "1 3/8 in (34.925 mm)"),
        ("load=30000&centre=44", "1 1/4 in"),
    ],
)
def test_the_row_of_a_load_is_found(client, people, sheet, asked, told):
    """49 CFR 230.99 and 230.112(d): 38,000 lb wants a journal of 5 in; over 30,000 lb on 50 in centres 1 3/8 in."""
    client.force_login(people.volunteer)
    text = client.get(f"{reverse('limit_sheet', args=[sheet.pk])}?{asked}").content.decode()
    found = text.partition("What holds for that load")[2].partition("</table>")[0]
    assert f"fails under {told}" in found.lower()


@for_each("asked", ["load=50001", "load=", "load=heavy", "load=-1", "load=20000&centre=big", "load=nan"])
def test_a_load_that_no_table_has_is_refused(client, people, sheet, asked):
    client.force_login(people.volunteer)
    assert client.get(f"{reverse('limit_sheet', args=[sheet.pk])}?{asked}").status_code == 422


def test_places_are_proposed_by_their_names_and_given_the_limit(client, works, people, sheet, axle):
    other = works.place(name="axle", axle="driving")
    works.place(name="axle nut")
    client.force_login(people.engineer)
    address = f"{give(row(sheet, '230.98(a)(6)'))}?locomotive={works.locomotive.slug}"
    text = client.get(address).content.decode()
    assert text.count(" checked") == 2
    assert "axle nut" not in text
    entered = {
        "to_places": "yes",
        "name": "journal diameter",
        "original": "8",
        "places-0": axle.pk,
        "places-1": other.pk,
    }
    assert client.post(address, entered).status_code == 302
    assert [x.editions.get().shop_lower for x in Dimension.objects.all()] == [Fraction("7.5") * INCH] * 2
    text = client.get(address).content.decode()
    assert "now judged by" in text
    assert " checked" not in text


@for_each(
    ("change", "told"),
    [
        ({"original": ""}, "Nothing was written"),
        ({"original": "8 in or so"}, "8 in or so"),
        ({"original": "1/4"}, "nothing would be left"),
        ({"places-0": ""}, "Tick the places that get this limit."),
        ({"places-0": "999999"}, "has gone since"),
    ],
)
def test_a_refusal_keeps_what_was_typed_and_gives_nothing(client, works, people, sheet, axle, change, told):
    client.force_login(people.engineer)
    address = f"{give(row(sheet, '230.98(a)(6)'))}?locomotive={works.locomotive.slug}"
    entered = {"to_places": "yes", "name": "LH journal diameter", "original": "8", "places-0": axle.pk} | change
    answer = client.post(address, {name: value for name, value in entered.items() if value != "" or name == "original"})
    text = answer.content.decode()
    assert (answer.status_code, told in text, 'value="LH journal diameter"' in text) == (422, True, True)
    assert not Dimension.objects.exists()


def test_other_places_are_found_by_words(client, works, people, sheet):
    place = works.place(name="leading wheels")
    client.force_login(people.engineer)
    address = f"{give(row(sheet, '230.112(c)'))}?locomotive={works.locomotive.slug}&words=leading"
    assert "leading wheels" in client.get(address).content.decode()
    assert client.post(address, {"to_places": "yes", "name": "", "places-0": place.pk}).status_code == 302
    assert Dimension.objects.get().name == "back-to-back, variation on one axle"


def test_the_track_gauge_is_asked_where_the_limit_goes_by_it(client, works, people, sheet):
    place = works.place(name="wheelset")
    client.force_login(people.engineer)
    address = give(row(sheet, "230.112(b)", "narrower"))
    entered = {"to_places": "yes", "name": "back to back", "places-0": place.pk}
    assert client.post(address, entered | {"gauge": "3 in"}).status_code == 422
    assert client.post(address, entered | {"gauge": "3 ft 6 in"}).status_code == 302
    assert Dimension.objects.get().editions.get().shop_lower == Fraction("38.5") * INCH


def test_a_clearance_is_given_to_the_fits_that_have_it(client, works, people, sheet):
    slide, shoe = works.place(name="slide bar"), works.place(name="crosshead")
    hole = works.dimension(shoe, "jaw", wears="larger", limits={"drawing": "125 ±5"})
    shaft = works.dimension(slide, "thickness", limits={"drawing": "125 ±5"})
    fit = add_fit(
        people.engineer, name="crosshead on slide bar", hole=hole, shaft=shaft, kind="running", least=Fraction(1, 10),
        most=Fraction(1, 2), unit="mm", source="s", source_edition="1",
    )  # fmt: skip
    client.force_login(people.engineer)
    address = give(row(sheet, "230.94", "vertical"))
    assert "crosshead on slide bar" in client.get(address).content.decode()
    assert client.post(address, {"to_fits": "yes"}).status_code == 422
    assert client.post(address, {"to_fits": "yes", "fit-places-0": fit.pk}).status_code == 302
    assert fit.editions.first().shop_most == Fraction("6.35")


def test_two_figures_that_fail_together_are_not_offered(client, people, works, sheet, axle):
    client.force_login(people.engineer)
    text = client.get(give(row(sheet, "230.113(c)"))).content.decode()
    assert "cannot limit one size" in text
    assert "places ticked" not in text


# --- a railway's own


def look(client, text=OWN, **about):
    return client.post(reverse("import_limits"), ABOUT | about | {"file": a_file(text)})


def test_a_railway_looks_at_its_sheet_before_it_is_stored(client, people, sheet, works):
    client.force_login(people.engineer)
    page = look(client)
    text = page.content.decode()
    assert page.status_code == 200
    assert "2 rows of “Wheel limits”" in text
    assert "at least 4.875 in (123.825 mm)" in text.lower()
    assert "under 128 mm" in text.lower()
    assert LimitSheet.objects.count() == 1
    stored = client.post(reverse("import_limits"), {"packed": page.context["packed"]})
    made = LimitSheet.objects.get(name="Wheel limits")
    assert stored["Location"] == reverse("limit_sheet", args=[made.pk])
    assert [x.item for x in made.rows.all()] == ["journal diameter", "bore"]
    assert (made.rows.last().shop_open, made.rows.first().note) == (True, "Sheet 7")
    again = client.post(reverse("import_limits"), {"packed": page.context["packed"]})
    assert again.status_code == 422
    assert LimitSheet.objects.count() == 2


def test_its_rows_are_given_to_places_like_any_others(client, works, people, sheet):
    place = works.place(name="axle", axle="driving")
    client.force_login(people.engineer)
    client.post(reverse("import_limits"), {"packed": look(client).context["packed"]})
    own = LimitSheet.objects.get(name="Wheel limits").rows.first()
    text = client.get(give(own)).content.decode()
    assert text.count(" checked") == 1
    client.post(give(own), {"to_places": "yes", "name": "journal diameter", "places-0": place.pk})
    kept = Dimension.objects.get().editions.get()
    assert (str(kept), kept.scrapping_lower) == ("Wheel limits, 4.2, issue 3", Fraction("4.75") * INCH)
    assert kept.drawing == "5 in +0.000 -0.002"


def test_every_trouble_is_told_by_row_and_column_and_nothing_is_stored(client, people, sheet):
    client.force_login(people.engineer)
    bad = OWN.replace("4 7/8", "about 4 7/8").replace("larger,fails", "larger,perhaps")
    answer = look(client, bad)
    text = answer.content.decode()
    assert answer.status_code == 422
    for words in ("Row&nbsp;2", "shop limit", "Row&nbsp;3", "limit itself", "Wheel limits", "issue 3"):
        assert words in text
    assert LimitSheet.objects.count() == 1


@pytest.mark.parametrize(
    ("about", "told"),
    [
        ({"name": " "}, "Nothing was written"),
        ({"edition": ""}, "Nothing was written"),
        ({"jurisdiction": "x" * 301}, "Shorten"),
    ],
)
def test_a_sheet_says_where_it_comes_from(client, people, sheet, about, told):
    client.force_login(people.engineer)
    answer = look(client, **about)
    assert (answer.status_code, told in answer.content.decode()) == (422, True)


def test_an_edition_that_is_here_is_told_before_anything_else(client, people, sheet):
    client.force_login(people.engineer)
    client.post(reverse("import_limits"), {"packed": look(client).context["packed"]})
    answer = look(client)
    assert (answer.status_code, "is here already" in answer.content.decode()) == (422, True)
    assert look(client, edition="issue 4").status_code == 200


def test_what_was_tampered_with_or_is_no_sheet_at_all_is_refused(client, people, sheet):
    client.force_login(people.engineer)
    assert client.post(reverse("import_limits"), {"packed": "rubbish:x:y"}).status_code == 422
    assert client.post(reverse("import_limits"), ABOUT).status_code == 422
    for text in ("\0\0\0", "a;b\n1;2\n", "position,dimension,unit\n"):
        assert look(client, text).status_code == 422


def test_the_empty_sheet_has_every_column_that_is_read(client, people):
    client.force_login(people.volunteer)
    text = client.get(reverse("limits_template")).content.decode("utf-8-sig")
    [heads] = list(csv.reader(text.splitlines()))
    line = dict(zip(heads, [""] * len(heads), strict=True)) | {
        "position": "Axle", "dimension": "d", "unit": "mm", "drawing size": "5 mm ±0.1", "source": "us",
    }  # fmt: skip
    read, troubles = read_sheet(f"{text}{','.join(line.values())}\n")
    assert (len(read), troubles) == (1, ())


def test_other_roles_strangers_wrong_methods_and_unknown(client, people, sheet, axle):
    assert client.get(reverse("limit_sheets")).status_code == 302
    client.force_login(people.manager)
    assert client.get(reverse("import_limits")).status_code == 403
    assert client.post(give(row(sheet, "230.113(h)")), {}).status_code == 403
    assert client.post(reverse("limit_sheets")).status_code == 405
    assert client.get(reverse("limit_sheet", args=[99999])).status_code == 404
    client.force_login(people.engineer)
    assert client.get(reverse("attach_row", args=[99999])).status_code == 404


def test_the_number_of_questions_does_not_grow(client, works, people, sheet, axle):
    client.force_login(people.engineer)
    address = give(row(sheet, "230.98(a)(6)"))
    page = reverse("limit_sheet", args=[sheet.pk])
    client.get(address)
    counts = []
    for turn in range(2):
        for number in range(2):
            place = works.place(name="axle", axle=f"{turn} {number}")
            entered = {"to_places": "yes", "name": "journal diameter", "original": "8", "places-0": place.pk}
            assert client.post(address, entered).status_code == 302
        with CaptureQueriesContext(connection) as told:
            client.get(address)
            client.get(page)
        counts.append(len(told))
    assert counts[0] == counts[1]
