"""Printed reports, read back by poppler, which shares nothing with the code that wrote them."""

import subprocess
from datetime import date
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inspections.concessions.writers import concede
from inspections.findings.writers import decide
from inspections.models import Examination
from inspections.records.writers.crack_checks import CheckDetails, Mark
from inspections.records.writers.signing import sign
from inspections.reports import record_bundles
from inspections.reports.record_words import sheet_of, sheets_of
from inspections.reports.report import report
from parts.domain.words import Kind, Method, State
from parts.photos import writers as photos
from parts.structure.writers.structure import add_subassembly
from tests import printed
from tests.factories import fresh
from tests.pictures import a_photo

pytestmark = [pytest.mark.django_db, pytest.mark.needs_poppler]
SAID = CheckDetails(
    procedure="Procedure PT-3",
    technique="visible, by brush",
    surface="bare, degreased",
    equipment="lux meter L-2",
    consumables="penetrant batch 2211",
    viewing="colour contrast",
    light_lux=Decimal(450),
    dwell_min=Decimal(10),
    surface_c=Decimal(20),
    reasons={"light-low": "the lamp of the shed; looked at twice", "surface-missed": "under the wheel"},
)


def for_report(record) -> Examination:
    return Examination.objects.for_page().get(pk=record.pk)


def printed_pages(pdf: bytes, folder) -> list[str]:
    return [" ".join(page.split()) for page in printed.text_of(pdf, folder).split("\f")[:-1]]


@pytest.fixture
def read(tmp_path):
    """The pages of a record's report, as text."""
    return lambda record: printed_pages(report(sheet_of(for_report(record))), tmp_path)


@pytest.fixture
def axle(works):
    place = works.place(
        name="axle", axle="leading", crack_check=Method.PENETRANT, drawing="GW-7 ⌀5½", material="steel",
        surfaces=["journal", "seat"],
    )  # fmt: skip
    return works.piece(State.CLEANED, place=place, marks="LH 3", cast_number="C 471")


def crack_check(works, piece, marks=3, **more) -> Examination:
    photos.add([a_photo()], piece, works.people.volunteer, caption="Inner end")
    shown = [
        Mark(
            length=f"{2 + n}", unit="mm", where=f"{n} mm from the key", photo=piece.photos.first(),
            across=Decimal("0.1") * n, down=Decimal("0.5"),
        )
        for n in range(marks)
    ]  # fmt: skip
    given = {"result": "indication", "found": "lines in the fillet", "check": SAID, "marks": shown}
    given |= {"reached": ["journal"], "not_reached": ["seat"]} | more
    return sign(piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, **given)


def test_a_crack_check_says_everything(works, axle, read):
    works.people.examiner.first_name = "Łukasz"
    works.people.examiner.save()
    works.people.examiner.authorisations.update(level="PT level 2", until=date(2100, 5, 3))
    record = crack_check(works, axle)
    decide(record, works.people.engineer, decision="repair", reason="weld it up", indication=record.indications.first())
    text = " ".join(read(record))
    for words in (
        "Penetrant crack check: indication", "axle", axle.tags.current_code(), "LH 3", "C 471", "axle, leading axle",
        "GW-7 ⌀5½", "steel", str(works.locomotive), "Łukasz", "PT level 2, good until 3 May 2100", "Procedure PT-3",
        "visible, by brush", "bare, degreased", "lux meter L-2", "penetrant batch 2211", "colour contrast", "450 lx",
        "10 min", "20 °C", "Surfaces reached journal", "Not reached, so not examined seat", "none chosen",
        "lines in the fillet", "0 mm from the key", "2 mm (about 0.0787 in) long", "Inner end, with the marks 1, 2, 3",
        "the lamp of the shed; looked at twice", "Indication 1: repair", "weld it up", "not decided yet",
        record.digest, "This is a record, not a certificate.", "competent person and the local code",
    ):  # fmt: skip
        assert words in text, words


def test_a_level_is_told_with_whose_proposal_it_was(works, axle, read):
    check = {**SAID.__dict__, "level": "ISO 23277 level 2", "level_reason": "the drawing names none"}
    record = crack_check(works, axle, check=CheckDetails(**check | {"level_by": works.people.engineer}))
    text = " ".join(read(record))
    assert "ISO 23277 level 2 (from memory, check against the standard)" in text
    assert f"proposed by {works.people.engineer}: the drawing names none" in text


@pytest.fixture
def sized(works, axle):
    """Forty readings of one size, the worst beyond its shop limit."""
    stations, ways = [f"station {n}" for n in range(1, 11)], ["vertical", "horizontal", "45°", "135°"]
    size = works.dimension(axle.place, letter="A", stations=stations, directions=ways, round_part=True)
    return works.measure(axle, {size: ["122.5", *[f"124.{n}" for n in range(10, 49)]]})


def test_readings_run_over_pages_with_their_head_on_each(sized, read):
    pages = read(sized)
    assert len(pages) >= 2
    holding = [page for page in pages if "station" in page]
    assert len(holding) >= 2
    assert all("Where As typed In both units" in page for page in holding)
    text = " ".join(pages)
    assert all(f"station {n}, {way}" in text for n in range(1, 11) for way in ("vertical", "135°"))
    assert all(f"124.{n} mm" in text for n in range(10, 49))


def test_a_size_is_told_with_its_limits_their_source_the_instrument_and_the_verdict(sized, read):
    text = " ".join(read(sized))
    for words in (
        "within scrapping limit: needs a decision", "at least 123 mm", "at least 120 mm", "invented sheet, 1",
        "outside micrometer M-", "1 Jan 2020", "±0.01 mm", "Ovality", "Taper", "122.5 mm",
    ):  # fmt: skip
        assert words in text, words


def test_a_concession_and_its_day_stand_on_the_record(works, read):
    rod = works.piece(State.CLEANED, place=works.place(name="piston rod"))
    record = works.measure(rod, {works.dimension(rod.place): "122.5"})
    size = record.measurements.get()
    concede(size, works.people.engineer, reason="light trains only", look_again=date(2100, 2, 1), paper="letter 7")
    text = " ".join(read(record))
    assert "to be looked at again by 1 Feb 2100; paper of the inspecting body: letter 7" in text
    assert "light trains only" in text


def test_both_the_old_and_the_new_record_name_the_other(works, axle, read):
    old = crack_check(works, axle)
    new = crack_check(works, axle, marks=0, result="sound", found="", supersedes=for_report(old))
    assert f"Superseded: record {new.pk} of" in " ".join(read(old))
    assert all("superseded" in page for page in read(old)), "on the foot of each page"
    assert f"Takes the place of record {old.pk}," in " ".join(read(new))


def test_long_remarks_are_printed_to_the_end(works, read):
    told = "\n".join(f"stay {n} struck, Łukasz listened, nothing but scale <b>&" for n in range(200))
    record = sign(works.piece(State.CLEANED), works.people.examiner, kind="visual", result="sound", remarks=told)
    pages = read(record)
    assert len(pages) >= 3
    assert all(f"stay {n} struck" in " ".join(pages) for n in range(200))
    assert "nothing but scale <b>&" in pages[0]
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert "This is a record, not a certificate." in page


@pytest.mark.parametrize("text", ["w" * 3000, "字" * 50, "a\tb\r\nc\u200b", "½ ⌀ Ł é e\u0301"])
def test_nothing_that_people_write_breaks_it(works, read, text):
    record = sign(works.piece(State.CLEANED), works.people.examiner, kind="visual", result="defect", found=text)
    decide(record, works.people.engineer, decision="repair", reason=text)
    assert read(record)


def test_a_record_that_was_changed_afterwards_says_so(works, axle, read):
    record = for_report(crack_check(works, axle, marks=0))
    record.remarks = "never signed"
    assert not sheet_of(record).as_signed
    assert sheet_of(for_report(record)).as_signed


def test_a_photo_whose_file_is_gone_is_missed_and_the_rest_is_printed(works, axle, read):
    record = crack_check(works, axle)
    photos.shown().delete(photos.picture_name(axle.photos.get().name, "large"))
    assert "The file of this photo is missing." in " ".join(read(record))


def test_the_file_says_what_it_is(works, axle, tmp_path):
    (tmp_path / "one.pdf").write_bytes(report(sheet_of(for_report(crack_check(works, axle)))))
    told = subprocess.run(["pdfinfo", tmp_path / "one.pdf"], check=True, capture_output=True).stdout.decode()
    assert f"penetrant crack check: axle {axle.tags.current_code()}" in told
    assert "A4" in told
    fonts = subprocess.run(["pdffonts", tmp_path / "one.pdf"], check=True, capture_output=True).stdout.decode()
    assert fonts.count("DejaVu") >= 2


def test_reading_many_records_takes_no_more_queries_than_one(works, axle):
    def queries(records) -> int:
        with CaptureQueriesContext(connection) as caught:
            assert sheets_of([for_report(record) for record in records])
        return len(caught) - len(records)

    one = [crack_check(works, axle)]
    many = [*one, *(crack_check(works, fresh(axle)) for _ in range(2))]
    assert queries(many) == queries(one) <= 8


# --- many in one file


def test_a_piece_has_all_its_records_in_one_file_after_their_contents(works, axle, tmp_path):
    old = crack_check(works, axle)
    new = crack_check(works, axle, marks=0, result="sound", found="", supersedes=for_report(old))
    pages = printed_pages(record_bundles.of_piece(fresh(axle), "CODE", timezone.now()), tmp_path)
    assert "contents, page 1 of 1" in pages[0]
    assert "2 signed records of this piece" in pages[0]
    for record in (old, new):
        page = next(n for n, text in enumerate(pages[1:], 1) if f"Record {record.pk} ·" in text)
        assert f"{record.pk} Penetrant crack check" in pages[0]
        assert f"page {page} of {len(pages) - 1}" in pages[page]
    starts = [n for n, text in enumerate(pages[1:], 1) if " · " in text and "What was examined" in text]
    assert all(f" {start}" in pages[0] for start in starts)


def test_a_subassembly_tells_what_stands_and_what_is_missing(works, axle, tmp_path):
    old = crack_check(works, axle)
    new = crack_check(works, axle, marks=0, result="sound", found="", supersedes=for_report(old))
    bare = works.piece(State.STRIPPED, place=works.place(name="drag box"))
    works.place(name="buffer beam")
    text = printed_pages(record_bundles.of_subassembly(works.frames, timezone.now()), tmp_path)
    assert f"{new.pk} Penetrant crack check" in text[0]
    assert f"{old.pk} Penetrant crack check" not in text[0]
    assert f"1 piece without a signed record Drag box {bare.tags.current_code()}" in text[0]
    assert "1 place with no piece Buffer beam" in text[0]


def test_a_subassembly_holds_the_records_of_its_parts(works, axle, tmp_path):
    part = add_subassembly(works.locomotive, "Hornguides", works.people.manager, parent=works.frames)
    piece = works.piece(State.CLEANED, place=works.place(name="stay", subassembly=part))
    works.look_at(piece)
    text = " ".join(printed_pages(record_bundles.of_subassembly(works.frames, timezone.now()), tmp_path))
    assert f"Stay, Hornguides: stay {piece.tags.current_code()}" in text


MANY = 40
"""Records of one piece, whose contents take two pages."""


def test_contents_that_run_over_pages_still_name_the_right_ones(works, tmp_path):
    piece = works.piece(State.CLEANED)
    records = [sign(fresh(piece), works.people.examiner, kind="visual", result="sound") for _ in range(MANY)]
    pages = printed_pages(record_bundles.of_piece(fresh(piece), "CODE", timezone.now()), tmp_path)
    front = [page for page in pages if "contents, page" in page]
    assert len(front) == 2
    assert all("Record What, and by whom Result Page" in page for page in front)
    assert f"{records[-1].pk} Visual, " in front[-1]
    assert f"Sound {MANY}" in front[-1]
    assert f"Record {records[-1].pk} ·" in pages[len(front) + MANY - 1]
