"""Indications on the crack check form: tapped on a photo, moved, taken out, read back in both units, then signed."""

from decimal import Decimal
from fractions import Fraction

import pytest
from django.test import Client

from inspections.reports.record_words import sheet_of
from parts.photos.writers import add
from tests.factories import fresh
from tests.inspections.cracks.test_crack_check import MT, at, bench, marks, photo, piece, signed, text_of
from tests.pictures import a_photo, not_a_photo
from tests.reads_over import sends
from tests.tables import for_each

__all__ = ["bench", "photo", "piece"]

UNTICKED = {"reached-1": None}  # the wheel seat
TAPPED = {"across": "0.25", "down": "0.5"}


def typed(response) -> list[dict]:
    """The indications as the page shows them again."""
    return [{name: form[name].value() for name in form.fields} for form in response.context["marks"].forms]


def a_tap(photo, x, y, **more) -> dict:
    return MT | marks() | {"shown": photo.name, "tap.x": x, "tap.y": y} | more


# --- read over, then signed


@pytest.fixture
def reader(bench, works):
    """Somebody who stops where there is something to read."""
    reader = Client()
    reader.force_login(works.people.examiner)
    return reader


def read_over(reader, piece, *sent):
    entered = MT | {name: value for one in sent for name, value in one.items()}
    ticked = {name: value for name, value in entered.items() if value is not None}
    return reader.post(at(piece), ticked, follow=True)


def test_an_indication_is_read_back_in_both_units_before_it_is_signed(reader, piece):
    page = read_over(reader, piece, marks({"length": "5", "width": "1.5", "where": "fillet"}))
    assert page.request["PATH_INFO"].endswith("/sign/crack-check")
    assert "Fillet. Linear, 5 mm (about 0.1969 in) by 1.5 mm (about 0.0591 in)." in text_of(page)
    assert not piece.examinations.exists()


def test_it_is_read_back_first_in_the_unit_it_was_typed_in(reader, piece):
    page = read_over(reader, piece, marks({"length": "3/16", "unit": "in", "where": "fillet"}))
    assert "Taken as linear, because no width was entered, 0.1875 in (4.7625 mm)." in text_of(page)


def test_a_width_that_was_not_entered_is_never_told_as_observed(bench, piece):
    signed(
        bench, piece, MT, marks({"length": "5", "where": "fillet"}, {"length": "5", "width": "0", "where": "fillet"})
    )
    page = text_of(bench.get(f"/examinations/{piece.examinations.get().pk}/"))
    assert [page.count(words) for words in ("not entered", "too fine to measure")] == [1, 2]
    assert "taken as linear" in page
    blank, fine = piece.examinations.get().indications.order_by("number")
    assert (blank.width, blank.sentence.partition(",")[0]) == (None, "Taken as linear")
    assert (fine.width, fine.sentence.partition(",")[0]) == (0, "Linear")
    code = piece.tags.current_code()
    told = [page, text_of(bench.get(f"/t/{code}")), piece.examinations.get().found, fine.sentence]
    told += [one.typed for one in sheet_of(piece.examinations.get()).shown]
    assert not [words for words in told if "by 0" in words]
    assert "fillet, 5 mm, too fine to measure across" in piece.examinations.get().found


def test_the_photo_with_its_mark_is_read_over(reader, piece, photo):
    page = read_over(reader, piece, marks({"length": "5", "photo": photo.name} | TAPPED))
    shown = page.content.decode()
    assert f"/photo/{photo.name}/large" in shown or photo.name in shown
    assert '<circle class="mark-ring" cx="400" cy="600"' in shown


def test_a_mark_on_a_surface_that_was_not_reached_is_questioned(reader, piece):
    left = {"reason-surface-missed": "under the tyre"}
    one = marks({"length": "5", "where": "Wheel seat, near side"})
    asked = read_over(reader, piece, left, UNTICKED, one)
    assert asked.status_code == 422
    assert "An indication is marked on wheel seat, which is said to be not reached" in text_of(asked)
    page = read_over(reader, piece, left, UNTICKED, one, {"reason-marked-missed": "seen from the end only"})
    assert reader.post(page.request["PATH_INFO"], sends(page)).status_code == 302
    assert [reason for _, reason in piece.examinations.get().crack_check.answers] == [
        "under the tyre", "seen from the end only",
    ]  # fmt: skip


def test_a_mark_on_a_surface_that_was_reached_is_not_questioned(reader, piece):
    left = {"reason-surface-missed": "under the tyre"}
    page = read_over(reader, piece, left, UNTICKED, marks({"length": "5", "where": "journal"}))
    assert page.request["PATH_INFO"].endswith("/sign/crack-check")


def test_once_read_it_is_signed_and_the_piece_is_set_apart(bench, piece):
    one = marks({"length": "5", "width": "1.5", "where": "fillet"})
    assert signed(bench, piece, MT, one).status_code == 302
    record = piece.examinations.get()
    shown = record.indications.get()
    assert (record.result, shown.length, shown.width, shown.linear) == ("indication", 5, Fraction(3, 2), True)
    assert fresh(piece).quarantined


def test_what_was_changed_after_reading_is_read_again(reader, piece):
    page = read_over(reader, piece, marks({"length": "5", "where": "fillet"}))
    read_over(reader, piece, marks({"length": "50", "where": "fillet"}))
    late = reader.post(page.request["PATH_INFO"], sends(page))
    assert late.status_code == 409
    assert "Read it over again" in text_of(late)
    assert "50 mm" in text_of(late)
    assert not piece.examinations.exists()


def test_reading_over_signs_nothing_and_loses_nothing(reader, piece):
    page = read_over(reader, piece, {"found": "as before", "remarks": "wet"})
    assert "No indication is marked." in text_of(page)
    back = reader.get(page.context["sheet"].back).context["form"]
    assert (back["found"].value(), back["remarks"].value()) == ("as before", "wet")
    assert not piece.examinations.exists()


def test_a_reason_that_was_given_is_still_there_after_reading(reader, piece):
    low = {"light_lux": "400", "reason-light-low": "lamp failed"} | marks({"length": "5", "where": "fillet"})
    page = read_over(reader, piece, low)
    assert "lamp failed" in text_of(page)
    assert reader.get(page.context["sheet"].back).context["form"]["reason-light-low"].value() == "lamp failed"
    assert reader.post(page.request["PATH_INFO"], sends(page)).status_code == 302
    assert piece.examinations.get().crack_check.answers[0][1] == "lamp failed"


VERDICTS = (
    ("3", "0.5", "this is that length, so it is within the level"),
    ("3.01", "0.5", "this is over it, so it is beyond the level"),
    ("2.99", "0.5", "this is not over it, so it is within the level"),
    ("3", "1", "for rounded indications"),
)


def test_the_verdict_by_the_level_is_read_back(reader, piece, people):
    """ISO 23278 level 2: linear to 3 mm, rounded to 3 mm; from memory, check against the standard."""
    level = {"level": "ISO 23278 level 2", "level_by": people.engineer.pk, "level_reason": "short of the fillet"}
    shown = [{"length": length, "width": width, "where": "web"} for length, width, _ in VERDICTS]
    page = read_over(reader, piece, level, marks(*shown))
    for (_, _, verdict), told in zip(VERDICTS, page.context["marks"], strict=True):
        assert verdict in told
        assert told in text_of(page)
        assert "from memory, check against the standard" in told


OFF = "not on a photo of this piece"
WRONG = (
    ({"length": "five", "where": "web"}, "five"),
    ({"length": "", "where": "web"}, "Nothing was written. Give its length with the unit."),
    ({"length": "5"}, "Tap it on a photo, or describe where it is."),
    ({"length": "5", "unit": "", "where": "web"}, "“5” has no unit"),
    ({"length": "5", "photo": "nobody", "across": "0.5", "down": "0.5"}, OFF),
    ({"length": "5", "unit": "furlong", "where": "web"}, "furlong"),
    (TAPPED | {"length": "5", "photo": "that", "across": "1.5"}, OFF),
    (TAPPED | {"length": "5", "photo": "that", "down": "nan"}, OFF),
    (TAPPED | {"length": "5", "photo": "that", "across": ""}, OFF),
)


def test_each_indication_that_cannot_be_read_is_shown_as_typed_with_its_mend(bench, piece, photo):
    sent = [one | ({"photo": photo.name} if one.get("photo") == "that" else {}) for one, _ in WRONG]
    page = bench.post(at(piece), MT | {"found": "kept"} | marks(*sent))
    assert page.status_code == 422
    for (wrong, sentence), form in zip(WRONG, page.context["marks"].forms, strict=True):
        told = " ".join(error for errors in form.errors.values() for error in errors)
        assert sentence in told, wrong
        assert sentence in text_of(page)
    numbers = ", ".join(str(number) for number in range(1, len(WRONG) + 1))
    assert f"Indication {numbers}: see the note beside it." in text_of(page)
    assert [one["length"] for one in typed(page)] == [wrong["length"] for wrong, _ in WRONG]
    assert page.context["form"]["found"].value() == "kept"
    assert not piece.examinations.exists()


def test_a_length_that_none_has_is_refused(bench, piece):
    page = bench.post(
        at(piece), MT | marks(*({"where": "web"} | one for one in ({"length": "5", "width": "7"}, {"length": "0"})))
    )
    assert page.status_code == 422
    for sentence in ("exchange length and width", "above zero"):
        assert sentence in text_of(page)
    assert not piece.examinations.exists()


def test_a_photo_of_another_piece_is_not_marked(bench, works, piece):
    other = add([a_photo()], works.piece(), works.people.volunteer).photos[0]
    assert bench.post(at(piece), MT | marks({"length": "5", "photo": other.name} | TAPPED)).status_code == 422


def test_an_indication_that_says_nothing_is_left_out(bench, piece):
    signed(bench, piece, MT, marks({}, {"length": "5", "where": "web"}, {}))
    assert [one.where for one in piece.examinations.get().indications.all()] == ["web"]


def test_more_than_sixty_indications_are_too_many_and_said_so(bench, piece):
    page = bench.post(at(piece), MT | marks(*[{"length": "5", "where": "web"}] * 61))
    assert page.status_code == 422
    assert "60 at most" in text_of(page)


def test_more_of_them_than_there_are_is_no_trouble(bench, piece):
    assert bench.post(at(piece), MT | {"mark-TOTAL_FORMS": "junk", "mark-INITIAL_FORMS": "0"}).status_code == 422


# --- taps, without scripts: the browser sends the pixel of the small photo, 320 wide


def test_a_tap_sets_a_mark_where_it_was(bench, piece, photo):
    page = bench.post(at(piece), a_tap(photo, 80, 120))
    assert page.status_code == 200
    (mark,) = typed(page)
    assert (mark["photo"], Decimal(mark["across"]), Decimal(mark["down"])) == (
        photo.name,
        Decimal("0.25"),
        Decimal("0.5"),
    )
    assert '<circle class="mark-ring" cx="400" cy="600"' in text_of(page)


def test_a_second_tap_sets_a_second_mark_and_keeps_the_first(bench, piece, photo):
    first = {"length": "5", "unit": "in", "photo": photo.name} | TAPPED
    page = bench.post(at(piece), a_tap(photo, 0, 0) | marks(first))
    assert [(mark["length"], mark["unit"]) for mark in typed(page)] == [("5", "in"), (None, "in")]


def test_a_tap_may_move_a_mark(bench, piece, photo):
    first = {"length": "5", "where": "web"}
    page = bench.post(at(piece), a_tap(photo, 319, 239, moves="1") | marks(first))
    (mark,) = typed(page)
    assert (mark["length"], mark["photo"]) == ("5", photo.name)
    assert Decimal(mark["across"]) > Decimal("0.99")


@for_each(("x", "y"), [("-1", "5"), ("", ""), ("junk", "1"), ("9" * 30, "1")])
def test_a_tap_that_is_none_changes_nothing(bench, piece, photo, x, y):
    page = bench.post(at(piece), a_tap(photo, x, y))
    assert (page.status_code, typed(page)) == (200, [])


def test_a_mark_is_taken_out(bench, piece, photo):
    sent = marks({"length": "5", "where": "a"}, {"length": "6", "where": "b"})
    page = bench.post(at(piece), MT | sent | {"do": "out:1"})
    assert [mark["where"] for mark in typed(page)] == ["b"]


def test_one_without_a_photo_is_added(bench, piece):
    page = bench.post(at(piece), MT | marks({"length": "5", "where": "a"}) | {"do": "add"})
    assert [mark["length"] for mark in typed(page)] == ["5", None]


def test_another_photo_is_chosen_and_nothing_is_lost(bench, piece, photo, people):
    newer = add([a_photo()], piece, people.volunteer).photos[0]
    assert bench.get(at(piece)).context["chosen"] == newer
    page = bench.post(at(piece), MT | {"procedure": "WP 4", "do": f"photo:{photo.name}"})
    assert page.context["chosen"] == photo
    assert page.context["form"]["procedure"].value() == "WP 4"


def test_a_photo_is_taken_on_the_way_and_chosen(bench, piece):
    page = bench.post(at(piece), MT | {"do": "upload", "photos": a_photo(), "procedure": "WP 4"})
    assert page.context["chosen"] == piece.photos.get()
    assert page.context["form"]["procedure"].value() == "WP 4"


def test_what_is_no_photo_is_said_and_nothing_is_lost(bench, piece):
    page = bench.post(at(piece), MT | {"do": "upload", "photos": not_a_photo(), "procedure": "WP 4"})
    assert page.status_code == 422
    assert "Photo not kept." in text_of(page)
    assert page.context["form"]["procedure"].value() == "WP 4"


def test_the_record_keeps_the_photo_and_the_place_on_it(bench, piece, photo):
    signed(bench, piece, MT, marks({"length": "5", "photo": photo.name} | TAPPED))
    shown = piece.examinations.get().indications.get()
    assert (shown.photo, shown.across, shown.down) == (photo, Decimal("0.25"), Decimal("0.5"))
