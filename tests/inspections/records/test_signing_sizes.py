"""Signing sizes and crack checks: each reason for which the signature is refused, with nothing written then."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.findings.writers import decide
from inspections.instruments.writers import calibrate, edit_instrument
from inspections.limits.writers import edit_dimension
from inspections.models import Dimension, Examination
from inspections.records import digests
from inspections.records.sheet import read_line
from inspections.records.writers.crack_checks import CheckDetails, Mark
from inspections.records.writers.signing import sign
from inspections.reports.record_words import sheet_of
from parts.domain.words import Kind, Method, State
from tests.factories import days, fresh
from tests.inspections.what_lasts import SAID, a_crack_check
from tests.parts.actions.standard import refused, standing
from tests.tables import for_each


@pytest.fixture
def place(works):
    return works.place(name="axle")


@pytest.fixture
def size(works, place):
    return works.dimension(place, stations=["inner", "outer"])


@pytest.fixture
def instrument(works):
    return works.instrument()


@pytest.fixture
def piece(works, size, place):
    return works.piece(State.CLEANED, place=place)


def line(size, instrument, *typed, reasons=None):
    """With a reason for the spot that most of these tests leave out."""
    reasons = {"spots-left-out": "inside the wheel"} | (reasons or {})
    return read_line(size, size.editions.first(), instrument, typed, unit="mm", today=days(0), reasons=reasons)


def signed(works, piece, *lines, kind=Kind.DIMENSIONAL, actor=None, **more):
    given = {"result": "sound", "lines": lines} | more
    return sign(piece, actor or works.people.examiner, kind=kind, **given)


# --- sizes


def test_a_line_left_blank_is_no_measurement(works, instrument, piece, size):
    collar = works.dimension(piece.place, name="collar")
    record = signed(works, piece, line(size, None, "", " "), line(collar, instrument, "124.96"))
    assert [one.dimension for one in record.measurements.all()] == [collar]


@pytest.mark.parametrize("kind", [Kind.DIMENSIONAL, Kind.THICKNESS])
def test_where_sizes_are_named_a_record_without_a_figure_is_refused(works, piece, size, kind):
    with refused("no-figure"):
        signed(works, piece, kind=kind, remarks="within limits")
    with refused("no-figure"):
        signed(works, piece, line(size, None, "", " "), kind=kind)


@pytest.mark.parametrize("result", ["sound", "defect"])
def test_where_no_size_is_named_none_is_owed_and_a_record_without_a_figure_is_refused(works, result):
    piece = works.piece(State.CLEANED, place=works.plain_place(calls_for=[Kind.DIMENSIONAL]))
    assert not standing(piece.place)[1] == "measure"
    with refused("no-figure"):
        signed(works, piece, remarks="straight by the wire", result=result, found="worn")


def test_a_spot_left_out_takes_a_reason_which_is_kept(works, instrument, piece, size):
    with refused("question") as caught:
        signed(works, piece, line(size, instrument, "124.96", reasons={"spots-left-out": ""}))
    assert "1 of 2 spots not measured: outer." in str(caught.value)
    [kept] = signed(works, piece, line(size, instrument, "124.96")).measurements.all()
    assert kept.questions == [["1 of 2 spots not measured: outer.", "inside the wheel"]]


def test_where_no_limit_is_set_the_engineers_judgement_stands_in_its_place(works, instrument, piece, size):
    bore = Dimension.objects.create(position=piece.place, name="bore", unit="mm", wears="larger")
    told = {"instrument": instrument, "typed": ["124.96"], "unit": "mm", "today": days(0)}
    with refused("question") as caught:
        signed(works, piece, read_line(bore, None, **told))
    assert "No limit is set for this size." in str(caught.value)
    reasons = {"no-limits": "The engineer: good for ten years."}
    [kept] = signed(works, piece, read_line(bore, None, **told, reasons=reasons)).measurements.all()
    assert (kept.size_class, kept.questions[0][1]) == ("", reasons["no-limits"])


def test_the_worst_of_several_readings_is_judged_and_all_are_kept(works, instrument, piece, size):
    [kept] = signed(works, piece, line(size, instrument, "122.5", "124.96")).measurements.all()
    assert (kept.value, kept.least, kept.most) == (Fraction("122.5"), Fraction("122.5"), Fraction("124.96"))
    assert [(x.station, x.typed) for x in kept.readings.all()] == [("inner", "122.5"), ("outer", "124.96")]


def test_sizes_are_of_a_dimensional_examination_or_of_thicknesses(works, instrument, piece, size):
    with refused("size"):
        signed(works, piece, line(size, instrument, "124.96"), kind=Kind.VISUAL)


def test_a_size_of_another_place_is_not_signed(works, instrument, piece):
    other = works.dimension(works.plain_place())
    with refused("size"):
        signed(works, piece, line(other, instrument, "124.96"))


@for_each("typed", ["125 or so", "5 7/8", "1,234 mm", "125 mm 5", "⅛⅛ in", "NaN", "-3"])
def test_what_cannot_be_read_is_refused_with_its_name_and_its_spot(works, instrument, piece, size, typed):
    with refused("size") as caught:
        signed(works, piece, read_line(size, None, instrument, ["124.96 mm", typed], unit="", today=days(0)))
    assert caught.value.refusals[0].sentence.startswith(f"{size} (outer): ")


def test_without_an_instrument_nothing_is_signed(works, piece, size):
    with refused("instrument"):
        signed(works, piece, line(size, None, "124.96"))


def test_an_instrument_that_has_lapsed_blocks(works, piece, size):
    old = works.instrument(calibrated_until=days(-1))
    with refused("instrument") as caught:
        signed(works, piece, line(size, old, "124.96"))
    assert "was calibrated until" in str(caught.value)


def test_so_does_one_found_out_of_true_until_it_is_put_right(works, instrument, piece, size):
    calibrate(instrument, works.people.examiner, on=days(0), certificate="C 2", found_out=True)
    with refused("instrument", "instrument") as caught:
        signed(works, piece, line(size, fresh(instrument), "124.96"))
    assert "was found out of true" in str(caught.value)
    put_right = {"until": days(300), "uncertainty": Fraction(1, 100)}
    calibrate(fresh(instrument), works.people.examiner, on=days(0), certificate="C 3", **put_right)
    assert signed(works, piece, line(size, fresh(instrument), "124.96"))


def test_and_one_out_of_use(works, instrument, piece, size):
    edit_instrument(instrument, works.people.examiner, retired=True)
    with refused("instrument") as caught:
        signed(works, piece, line(size, fresh(instrument), "124.96"))
    assert "is out of use" in str(caught.value)


def test_on_its_last_day_it_is_good(works, piece, size):
    assert signed(works, piece, line(size, works.instrument(calibrated_until=days(0)), "124.96"))


@pytest.mark.parametrize(("typed", "code"), [("124.961", "resolution"), ("301", "range")])
def test_a_reading_finer_than_the_instrument_or_out_of_its_range_takes_a_reason(works, piece, size, typed, code):
    instrument = works.instrument()
    with refused("question"):
        signed(works, piece, line(size, instrument, typed))
    with refused("question"):
        signed(works, piece, line(size, instrument, typed, reasons={code: " "}))
    [kept] = signed(works, piece, line(size, instrument, typed, reasons={code: "read twice"})).measurements.all()
    assert [reason for _, reason in kept.questions] == ["read twice", "inside the wheel"]


def test_a_size_outside_makes_the_result_a_defect_whatever_was_ticked(works, instrument, piece, size):
    record = signed(works, piece, line(size, instrument, "122.5"))
    assert (record.result, "beyond the shop limit" in record.found) == ("defect", True)
    record = signed(works, fresh(piece), line(size, instrument, "122.5"), found="worn hollow")
    assert record.found == "worn hollow"


def test_several_reasons_are_told_at_once(works, instrument, piece, size):
    collar = works.dimension(piece.place, name="collar")
    with refused("size", "instrument"):
        signed(works, piece, line(size, instrument, "thick"), line(collar, None, "124.96"))


def test_who_is_not_authorised_signs_no_sizes(works, instrument, piece, size):
    works.people.examiner.authorisations.filter(kind=Kind.DIMENSIONAL).update(until=days(-1))
    with refused("not-authorised"):
        signed(works, piece, line(size, instrument, "124.96"))


# --- crack checks


@pytest.fixture
def bare(works):
    return works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))


def test_how_it_was_done_and_by_whom_is_kept(works, bare):
    works.people.examiner.authorisations.update(level="level 2", until=days(30))
    check = a_crack_check(works, bare, "12").crack_check
    assert (check.examiner_level, check.examiner_until, check.viewing) == ("level 2", days(30), "colour contrast")


def test_conditions_and_marks_are_of_crack_checks_only(works, bare):
    for more in ({"check": CheckDetails(**SAID)}, {"marks": [Mark(length="2", unit="mm", where="web")]}):
        with refused("kind"):
            sign(bare, works.people.examiner, kind=Kind.VISUAL, result="defect", found="a line", **more)


def test_a_mark_makes_the_result_an_indication_and_sets_the_piece_apart(works, bare):
    record = a_crack_check(works, bare, "12", result="sound", found="")
    assert (record.result, record.found, bare.quarantined) == ("indication", "in the fillet, 12 mm", True)


def test_a_mark_that_is_no_crack_sets_nothing_apart(works, bare):
    a_crack_check(works, bare, marks=[Mark(length="2", unit="mm", where="web", crack=False)])
    assert not bare.quarantined


@for_each(
    "mark",
    [
        {"length": "2", "unit": "", "where": "web"},
        {"length": "long", "unit": "mm", "where": "web"},
        {"length": "", "unit": "mm", "where": "web"},
        {"length": "2", "unit": "mm"},
        {"length": "2", "width": "3", "unit": "mm", "where": "web"},
        {"length": "0", "unit": "mm", "where": "web"},
    ],
)
def test_a_mark_that_cannot_be_read_or_is_nowhere_is_refused_by_its_number(works, bare, mark):
    good = Mark(length="2", unit="mm", where="web")
    with refused("mark") as caught:
        a_crack_check(works, bare, marks=[good, Mark(**mark)])
    assert caught.value.refusals[0].sentence.startswith("Indication 2: ")


@pytest.mark.parametrize(
    "out", [{"dwell_min": Decimal(4)}, {"light_lux": Decimal(499)}, {"surface_c": Decimal(51)}, {"viewing": ""}]
)
def test_a_condition_out_of_the_usual_takes_a_reason_which_is_kept(works, bare, out):
    entered = SAID | out
    with refused("question"):
        a_crack_check(works, bare, check=CheckDetails(**entered))
    [question] = CheckDetails(**entered).questions(Method.PENETRANT, "steel")
    record = a_crack_check(
        works, bare, check=CheckDetails(**entered, reasons={question.code: "as the maker's sheet has it"})
    )
    assert record.crack_check.answers == [[question.sentence, "as the maker's sheet has it"]]


LEVEL = {"level": "ISO 23277 level 2"}


def test_a_level_on_what_is_no_weld_is_the_engineers_proposal_with_a_reason(works, bare):
    engineer = {"level_by": works.people.engineer}
    for entered, codes in (
        (LEVEL, ["level", "level-by"]),
        (LEVEL | engineer, ["level"]),
        (LEVEL | {"level_reason": "drawing names none"}, ["level-by"]),
        (LEVEL | {"level_reason": "drawing names none", "level_by": works.people.examiner}, ["level-by"]),
        ({"level": "level nine", "level_reason": "so"} | engineer, ["level"]),
    ):
        with refused(*codes):
            a_crack_check(works, bare, check=CheckDetails(**SAID | entered))
    record = a_crack_check(
        works, bare, "12", check=CheckDetails(**SAID | LEVEL | engineer | {"level_reason": "drawing names none"})
    )
    assert (record.crack_check.level_by, record.indications.get().acceptable) == (works.people.engineer, False)


@pytest.mark.parametrize(("length", "acceptable"), [("4", True), ("4.01", False)])
def test_exactly_on_the_limit_of_the_level_is_within_it(works, bare, length, acceptable):
    """ISO 23277 level 2, linear: 4 mm. From memory, as the level itself is."""
    check = CheckDetails(**SAID | LEVEL, level_by=works.people.engineer, level_reason="drawing names none")
    assert a_crack_check(works, bare, length, check=check).indications.get().acceptable is acceptable


# --- deciding, one by one


def test_each_indication_is_decided_by_itself_and_the_place_waits_for_all(works, bare):
    record = a_crack_check(works, bare, "2", "3")
    one, two = record.indications.order_by("number")
    decide(record, works.people.engineer, decision="accept as it is", reason="a scratch", indication=one)
    assert standing(bare.place) == ("blocked", "decide")
    decide(record, works.people.engineer, decision="repair", reason="weld it", indication=two)
    assert standing(bare.place) == ("blocked", "repair")


def test_an_indication_is_decided_on_its_own_record(works, bare):
    first = a_crack_check(works, bare, "2")
    second = a_crack_check(works, bare, "3")
    with refused("indication"):
        decide(second, works.people.engineer, decision="repair", reason="weld it", indication=first.indications.get())


def test_of_several_only_what_is_no_crack_may_stay_in_a_safety_critical_piece(works):
    place = works.plain_place(crack_check=Method.PENETRANT, safety_critical=True)
    piece = works.piece(State.CLEANED, place=place)
    marks = [Mark(length="2", unit="mm", where="web", crack=False), Mark(length="9", unit="mm", where="fillet")]
    record = a_crack_check(works, piece, marks=marks)
    scratch, crack = record.indications.order_by("number")
    entered = {"decision": "accept as it is", "reason": "it will do"}
    decide(record, works.people.engineer, indication=scratch, **entered)
    for more in ({"indication": crack}, {}):
        with refused("cracked"):
            decide(record, works.people.engineer, **entered, **more)


def test_superseding_takes_a_record_of_the_same_piece_and_kind(works, bare):
    record = a_crack_check(works, bare, "2")
    with refused("supersedes"):
        sign(bare, works.people.examiner, kind=Kind.VISUAL, result="sound", supersedes=record)
    other = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
    with refused("supersedes"):
        a_crack_check(works, other, supersedes=record)
    later = a_crack_check(works, bare, supersedes=type(record).objects.get(pk=record.pk))
    with refused("superseded"):
        a_crack_check(works, bare, supersedes=type(record).objects.get(pk=record.pk))
    assert later.supersedes == record


@pytest.mark.parametrize(
    ("length", "width", "told"),
    [
        ("22", "0.1", "web, 22 by 0.1 mm"),
        ("22 mm", "0.1 mm", "web, 22 mm by 0.1 mm"),
        ("22 mm", "0.1", "web, 22 mm by 0.1 mm"),
        ("22", "", "web, 22 mm"),
    ],
)
def test_a_unit_that_was_typed_with_a_mark_is_not_said_twice(length, width, told):
    assert Mark(length=length, width=width, unit="mm", where="web").in_words() == told


def test_a_record_keeps_the_name_of_a_size_as_it_was_signed(works, place):
    size = works.dimension(place)
    works.measure(works.piece(State.CLEANED, place=place), {size: "124.96"})
    record = Examination.objects.get(measurements__dimension=size)
    edit_dimension(size, works.people.engineer, name="bore of the gland")
    assert [one.name for one in sheet_of(record).sizes] == ["journal diameter"]
    assert not list(digests.differing(Examination.objects.all()))


def test_the_name_as_signed_is_inside_the_digest_and_records_of_form_1_stay_readable(works, place):
    size = works.dimension(place)
    works.measure(works.piece(State.CLEANED, place=place), {size: "124.96"})
    record = Examination.objects.get(measurements__dimension=size)
    (one,) = record.measurements.all()
    content = digests.content_of(record, [one])
    assert (content["form"], content["measurements"][0]["size"]) == (3, "journal diameter")
    one.dimension_words = "bore of the gland"
    assert digests.digest(digests.content_of(record, [one])) != record.digest
    record.form = 1  # as a record signed before form 2 is stored
    old = digests.content_of(record, [one])
    assert (old["form"], "size" in old["measurements"][0]) == (1, False)
