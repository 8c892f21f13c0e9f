"""Measuring at the bench: the sheet, one size at a time, the verdict as it is typed, and the signature."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.models import Authorisation
from inspections.measuring.measuring_context import dimensions_of, sheet_for
from inspections.models import Draft
from inspections.records.sheet import read_line
from inspections.records.writers.signing import sign
from parts.domain.words import State
from tests.as_shown import text_of
from tests.factories import a_person, days, fresh


@pytest.fixture
def place(works):
    return works.place(name="axle", calls_for=["dimensional"])


@pytest.fixture
def size(works, place):
    return works.dimension(place, letter="A")


@pytest.fixture
def piece(works, place, size):
    return works.piece(State.CLEANED, place=place)


@pytest.fixture
def micrometer(works):
    return works.instrument()


@pytest.fixture
def bench(client, works):
    client.force_login(works.people.examiner)
    return client


def survey_examiner(works):
    """An examiner authorised for thickness surveys, as those of the cast are not."""
    person = works.people.examiner
    Authorisation.objects.get_or_create(person=person, kind="ultrasonic thickness", method="")
    return type(person).objects.get(pk=person.pk)


def at(piece) -> str:
    return f"/t/{piece.tags.current_code()}/measure"


def typed(size, micrometer, /, *figures, unit="mm", **more) -> dict:
    entered = {f"size-{size.pk}-{n}": figure for n, figure in enumerate(figures)}
    return entered | {f"with-{size.pk}": micrometer.pk, f"unit-{size.pk}": unit} | more


def signing(piece, entered, **more) -> dict:
    return entered | {"do": "sign", "seen": piece.last_event, "result": "sound", "on": days(0)} | more


def test_the_sheet_shows_each_size_with_its_limits_and_their_source(bench, piece, micrometer):
    page = text_of(bench.get(at(piece)))
    assert "Journal diameter" in page
    assert "at least 123 mm" in page
    assert "invented sheet, 1" in page
    assert "good until 1 Jan 2100" in page


def test_what_comes_after_its_record_was_signed_is_not_kept_beside_it(bench, works, piece, size, micrometer):
    """The last figure and the signature may leave a slow phone together, and arrive the other way round."""
    shown = {"seen": piece.last_event}
    bench.post(at(piece), signing(piece, typed(size, micrometer, "124.96")))
    late = bench.post(f"{at(piece)}/try?size={size.pk}", typed(size, micrometer, "124.97") | shown)
    assert (late.status_code, Draft.objects.count()) == (409, 0)
    begun_anew = {"seen": fresh(piece).last_event}
    bench.post(f"{at(piece)}/try?size={size.pk}", typed(size, micrometer, "124.97") | begun_anew)
    assert Draft.objects.count() == 1


def test_what_is_typed_is_judged_and_kept_before_it_is_signed(bench, piece, size, micrometer):
    response = bench.post(f"{at(piece)}/try?size={size.pk}", typed(size, micrometer, "124.96"))
    assert "As new." in text_of(response)
    assert "4.9197 in (rounded) = 124.96 mm" in text_of(response)
    assert Draft.objects.get().entered["sizes"][str(size.pk)]["typed"] == ["124.96"]
    assert not piece.examinations.exists()
    assert 'value="124.96"' in text_of(bench.get(at(piece)))


def test_a_figure_with_its_own_unit_wins(bench, piece, size, micrometer):
    response = bench.post(f"{at(piece)}/try?size={size.pk}", typed(size, micrometer, "4 7/8 in", unit="mm"))
    assert "123.825 mm" in text_of(response)


def test_inches_typed_as_millimetres_are_pointed_out(bench, piece, size, micrometer):
    response = bench.post(f"{at(piece)}/try?size={size.pk}", typed(size, micrometer, "4.9", unit="mm"))
    assert "Far off its limits." in text_of(response)
    near = bench.post(f"{at(piece)}/try?size={size.pk}", typed(size, micrometer, "119.9"))
    assert "Far off" not in text_of(near)


def test_an_unreadable_size_is_shown_as_typed_and_nothing_else_is_lost(bench, works, place, piece, size, micrometer):
    other = works.dimension(place, "seat diameter")
    entered = typed(size, micrometer, "124,96 or so") | typed(other, micrometer, "124.97")
    response = bench.post(at(piece), signing(piece, entered, remarks="warm in the shed"))
    page = text_of(response)
    assert response.status_code == 422
    for kept in ('value="124,96 or so"', 'value="124.97"', "warm in the shed"):
        assert kept in page
    assert f'<a href="#size-{size.pk}">A journal diameter: ' in page
    assert not piece.examinations.exists()


def test_signing_freezes_the_sizes_and_the_draft_is_gone(bench, works, piece, size, micrometer):
    works.look_at(piece)
    bench.post(f"{at(piece)}/try?size={size.pk}", typed(size, micrometer, "124.96"))
    response = bench.post(at(piece), signing(fresh(piece), typed(size, micrometer, "124.96")))
    assert response.status_code == 302
    [kept] = piece.examinations.get(measurements__isnull=False).measurements.all()
    assert (str(kept.value), kept.size_class, kept.instrument) == ("3124/25", "as new", micrometer)
    assert not Draft.objects.exists()


def test_a_question_asks_for_a_reason_and_keeps_it(bench, piece, size, micrometer):
    entered = typed(size, micrometer, "124.9612")
    refused = bench.post(at(piece), signing(piece, entered))
    assert refused.status_code == 422
    assert "finer than the outside micrometer" in text_of(refused)
    assert f'name="why-{size.pk}-resolution"' in text_of(refused)
    entered[f"why-{size.pk}-resolution"] = "read with the vernier"
    assert bench.post(at(piece), signing(piece, entered)).status_code == 302
    [[_, reason]] = piece.examinations.get().measurements.get().questions
    assert reason == "read with the vernier"


def test_an_instrument_out_of_date_is_shown_and_cannot_be_signed_with(bench, works, piece, size):
    old = works.instrument(calibrated_until=days(-1))
    assert "not to be signed with" in text_of(bench.get(at(piece)))
    response = bench.post(at(piece), signing(piece, typed(size, old, "124.96")))
    assert response.status_code == 422
    assert "nothing measured with it can be signed" in text_of(response)


def test_a_sheet_with_nothing_on_it_is_not_signed(bench, piece, size, micrometer):
    response = bench.post(at(piece), signing(piece, typed(size, micrometer, "")))
    assert response.status_code == 422
    assert "Measure at least one size before you sign." in text_of(response)


def test_one_size_at_a_time_leads_on_to_the_next_and_to_signing(bench, works, place, piece, size, micrometer):
    other = works.dimension(place, "seat diameter", letter="B")
    first = bench.get(f"{at(piece)}?size={size.pk}")
    assert "1 of 2" in text_of(first)
    on = bench.post(at(piece), typed(size, micrometer, "124.96", do="next", size=size.pk))
    assert on.url == f"{at(piece)}?size={other.pk}#size-{other.pk}"
    assert f'value="{micrometer.pk}" data-unit="mm" selected' in text_of(bench.get(on.url))
    end = bench.post(at(piece), typed(other, micrometer, "124.97", do="next", size=other.pk))
    assert end.url == f"{at(piece)}#sign"
    assert list(Draft.objects.get().entered["sizes"]) == [str(size.pk), str(other.pk)]


def test_a_size_that_cannot_be_read_stays_in_sight(bench, piece, size, micrometer):
    response = bench.post(at(piece), typed(size, micrometer, "12 1/", do="next", size=size.pk))
    assert response.status_code == 422
    assert 'value="12 1/"' in text_of(response)


def test_many_spots_go_by_one_by_one(bench, works, place, micrometer):
    plate = works.dimension(place, "plate", stations=[f"row {n}" for n in range(1, 13)])
    piece = works.piece(State.CLEANED, place=place)
    assert "Row 4" in text_of(bench.get(f"{at(piece)}?size={plate.pk}&spot=3"))
    bench.post(at(piece), typed(plate, micrometer, "124.9", do="next", size=plate.pk, spot=0))
    entered = {f"size-{plate.pk}-1": "124.8", f"with-{plate.pk}": micrometer.pk, f"unit-{plate.pk}": "mm"}
    on = bench.post(at(piece), entered | {"do": "next", "size": plate.pk, "spot": 1})
    assert on.url == f"{at(piece)}?size={plate.pk}&spot=2#size-{plate.pk}"
    assert Draft.objects.get().entered["sizes"][str(plate.pk)]["typed"] == ["124.9", "124.8"]


def test_the_last_value_of_the_piece_stands_beside(bench, works, piece, size):
    works.measure(piece, {size: "124.96"})
    page = text_of(bench.get(at(piece)))
    assert "Last: <strong>124.96 mm" in page
    assert "Examiner</a>" in page


def test_correcting_begins_with_the_old_values(bench, works, piece, size):
    old = works.measure(piece, {size: "122.5"})
    assert "Put its values on the sheet" in text_of(bench.get(f"{at(piece)}?supersedes={old.pk}"))
    bench.post(at(piece), {"do": "correct", "supersedes": old.pk})
    response = bench.get(at(piece))
    assert 'value="122.5"' in text_of(response)
    entered = typed(size, old.measurements.get().instrument, "124.5", supersedes=old.pk)
    bench.post(at(piece), signing(fresh(piece), entered))
    assert fresh(old).superseded_by.measurements.get().size_class == "within shop limit"


def test_a_thickness_survey_tells_the_rate_beside_the_earlier_one(bench, works, micrometer):
    place = works.place(name="plate")
    plate = works.dimension(
        place, "plate", stations=["row 1", "row 2"],
        limits={"drawing": "12 +0.5 -0", "scrapping": "7"},
    )  # fmt: skip
    piece = works.piece(State.CLEANED, place=place)
    lines = [read_line(plate, plate.editions.first(), micrometer, ["10.8", "12"], unit="mm", today=days(0))]
    on = days(-2922)  # eight years
    sign(
        piece,
        survey_examiner(works),
        kind="ultrasonic thickness",
        result="sound",
        lines=lines,
        on=on,
        remarks="from the papers",
    )
    bench.force_login(survey_examiner(works))
    address = at(piece).replace("measure", "thickness")
    page = text_of(bench.post(f"{address}/try?size={plate.pk}", typed(plate, micrometer, "10", "11.9")))
    assert "0.1 mm (about 0.0039 in) lost a year at row 1" in page
    assert "in 30.0 years at that rate" in page
    assert "no certificate" in page
    assert bench.post(address, signing(fresh(piece), typed(plate, micrometer, "10", "11.9"))).status_code == 302
    assert [record.kind for record in piece.examinations.all()] == ["ultrasonic thickness"] * 2


def test_a_signature_that_was_entered_is_never_kept(bench, piece, size, micrometer):
    bench.post(at(piece), signing(piece, typed(size, micrometer, "12 1/"), signature="2468"))
    assert "2468" not in str(Draft.objects.get().entered)


def test_a_late_sheet_is_told_who_was_quicker_and_keeps_what_was_typed(bench, works, piece, size, micrometer):
    entered = signing(piece, typed(size, micrometer, "124.96"))
    works.look_at(piece)
    response = bench.post(at(piece), entered)
    assert response.status_code == 409
    assert "124.96 mm" in text_of(response)


def test_a_place_without_sizes_is_not_measured(bench, works):
    piece = works.piece(State.CLEANED)
    page = text_of(bench.get(at(piece)))
    assert "No size is set for its place" in page
    entered = {"remarks": "bore 2 in by the old drawing"}
    answer = bench.post(at(piece), signing(piece, entered))
    assert answer.status_code == 422
    assert "without a figure nothing is measured" in text_of(answer)


def test_a_dirty_piece_is_cleaned_first(bench, works, place, size):
    piece = works.piece(State.STRIPPED, place=place)
    assert "Clean it first." in text_of(bench.get(at(piece)))
    assert bench.post(at(piece), {"do": "sign"}).status_code == 422


def test_who_may_not(client, works, piece, size):
    assert client.get(at(piece)).url == f"/sign-in/?next={at(piece)}"
    client.force_login(works.people.fitter)
    assert client.get(at(piece)).status_code == 403
    client.force_login(a_person("examiner", authorised=[("visual", "")]))
    assert client.get(at(piece)).status_code == 403


def test_wrong_ways_in(bench, piece, size):
    assert bench.get("/t/ZZZZZZZZ/measure").status_code == 404
    assert bench.put(at(piece)).status_code == 405
    assert bench.get(f"{at(piece)}/try?size={size.pk}").status_code == 405
    assert bench.post(f"{at(piece)}/try?size=999999").status_code == 404


WILD = ["\0", "9" * 200, "1/0 in", "½" * 50, "𝟙 mm", "<b>5</b>", "1e400 mm", "0." + "1" * 39 + " mm"]


def test_nothing_that_is_typed_breaks_the_page(bench, works, place, piece, size, micrometer):
    sizes = [size, *(works.dimension(place, f"seat {n}") for n in range(1, len(WILD)))]
    entered = {}
    for one, wild in zip(sizes, WILD, strict=True):
        entered |= typed(one, micrometer, wild)
        assert bench.post(f"{at(piece)}/try?size={one.pk}", typed(one, micrometer, wild)).status_code == 200
    refused = bench.post(at(piece), signing(piece, entered))
    assert refused.status_code == 422
    for one in sizes:
        assert f'<a href="#size-{one.pk}">' in text_of(refused)
    assert bench.get(at(piece)).status_code == 200


def test_queries_do_not_grow_with_the_sizes(bench, works, django_assert_num_queries):
    pages = []
    for count in (2, 5):
        place = works.place(name="axle", end=f"{count}")
        sizes = [works.dimension(place, f"size {n}") for n in range(count)]
        piece = works.piece(State.CLEANED, place=place)
        works.measure(piece, dict.fromkeys(sizes, "124.96"))
        dimensions = dimensions_of(piece)
        with django_assert_num_queries(4):
            sheet_for(piece, works.people.examiner, "dimensional", dimensions)
        bench.get(at(piece))  # the first page of a session asks for more
        with CaptureQueriesContext(connection) as captured:
            bench.get(at(piece))
        pages.append(len(captured))
    assert pages[0] == pages[1]
