"""The examiner's worklist by method and by place, and the sheet to print for a day when everything is looked at."""

import pytest

from inspections.examinations.day_sheet import day_sheet
from inspections.examinations.day_sheet_pdf import render
from inspections.examinations.waiting import Worklist
from inspections.findings.writers import decide
from inspections.records.writers.signing import sign
from parts.actions.refresh import refresh
from parts.domain.tagcodes import grouped
from parts.domain.words import Need, State
from parts.models import Component
from tests.factories import add_location, days, how_checked
from tests.inspections.cracks.test_crack_check import PT, marks, signed, text_of
from tests.parts.actions.standard import standing
from tests.printed import pages, read_back
from tests.printed import text_of as printed_text

NO_WAY_IN = {"reason-surface-missed": "no way in today"}


@pytest.fixture
def shed(works):
    return add_location(works.people.storekeeper, "Wheel shed", "building")


@pytest.fixture
def bench(client, works):
    client.force_login(works.people.examiner)
    return client


def to_check(works, **place) -> Component:
    return works.piece(State.CLEANED, place=works.critical_place(calls_for=[]), **place)


def listed(response) -> list[Component]:
    return [look.piece for _, look in response.context["page_obj"].object_list]


def lines(response):
    return {group.where: [line.in_clear for line in group.lines] for group in response.context["sheet"].groups}


def code(piece) -> str:
    return piece.tags.current_code()


# --- the list


@pytest.mark.engine
def test_by_where_they_lie(bench, works, shed):
    here, there = to_check(works), to_check(works, location=shed)
    everywhere = bench.get("/examinations/")
    assert listed(everywhere) == [here, there]
    assert everywhere.context["places"] == sorted([works.crate.path, shed.path])
    assert listed(bench.get("/examinations/", {"at": shed.path})) == [there]
    assert [tab["label"] for tab in bench.get("/examinations/", {"at": shed.path}).context["tabs"]] == [
        "All 1", "Magnetic particle 1",
    ]  # fmt: skip


def test_a_building_holds_what_lies_on_its_shelves(bench, works, shed):
    shelf = add_location(works.people.storekeeper, "Shelf 3", "shelf", parent=shed)
    piece = to_check(works, location=shelf)
    assert bench.get("/examinations/").context["places"] == [shed.path, shelf.path]
    assert listed(bench.get("/examinations/", {"at": shed.path})) == [piece]


def test_what_is_wanted_and_what_was_last_found_stand_on_the_line(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="penetrant", surfaces=["web"]))
    signed(bench, piece, PT | NO_WAY_IN, marks({"length": "5", "where": "fillet"}))
    decide(piece.examinations.get(), works.people.engineer, decision="re-examine", reason="dress it")
    ((row, _),) = bench.get("/examinations/").context["page_obj"].object_list
    (look,) = row.looks
    assert "Not examined: web" in look.wanted[0]
    assert look.last.endswith("showed: fillet, 5 mm. Decided: re-examine.")
    assert row.sort == "crack check: penetrant"


def test_an_excavation_waits_for_its_look_before_it_is_welded(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="penetrant"))
    signed(bench, piece, PT, marks({"length": "5", "where": "fillet"}))
    decide(piece.examinations.get(), works.people.engineer, decision="repair", reason="weld it")
    assert standing(piece.place) == ("blocked", Need.REPAIR)
    assert listed(bench.get("/examinations/", {"for": "weld excavation"})) == [piece]
    assert listed(bench.get("/examinations/")) == [piece]
    works.check_weld(piece, "excavation")
    assert listed(bench.get("/examinations/")) == []


def test_a_weld_waits_for_its_last_look(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="penetrant"))
    works.check_weld(piece, "excavation")
    works.do("finish repair", piece, works.people.fitter, work="welded", who="x", procedure="WPS 7", welder="E")
    works.clean(piece)
    works.check_weld(piece, "finished weld")
    ((row, _),) = bench.get("/examinations/", {"for": "crack check: penetrant"}).context["page_obj"].object_list
    assert row.looks[0].wanted == [
        "Only a weld was checked for cracks, not the whole piece: no penetrant crack check of it is signed.",
        "The weld was not checked for cracks again after stress relief or final machining.",
    ]


def test_what_the_calendar_brought_into_doubt_is_listed_with_the_reason(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place())
    sign(piece, works.people.examiner, kind="visual", result="sound", on=days(-40), remarks="lay clean since")
    works.accept(piece)
    assert listed(bench.get("/examinations/")) == []
    Component.objects.filter(pk=piece.pk).update(look_again=days(-1))
    refresh(piece.place_id)
    page = bench.get("/examinations/", {"for": "in doubt"})
    ((row, _),) = page.context["page_obj"].object_list
    assert (row.pieces, row.sort) == ([piece], "in doubt")
    assert "was to be looked at again" in " ".join(row.looks[0].wanted)
    assert [tab["label"] for tab in page.context["tabs"]] == ["All 1", "In doubt 1"]
    assert list(lines(bench.get("/examinations/sheet"))) == [works.crate.path]


def test_what_a_later_record_brought_into_doubt_is_listed(bench, works):
    piece = works.piece(State.ACCEPTED, place=works.critical_place(calls_for=[]))
    old = piece.examinations.get()
    sign(
        piece, works.people.examiner, kind="crack check", method="magnetic particle", result="sound",
        check=how_checked("magnetic particle"), reached=["journal"], supersedes=old,
    )  # fmt: skip
    ((row, _),) = bench.get("/examinations/", {"for": "in doubt"}).context["page_obj"].object_list
    assert "Not examined: wheel seat" in row.looks[0].wanted[0]


# --- the sheet


def test_the_sheet_groups_them_by_where_they_lie(bench, works, shed):
    here, there = to_check(works), to_check(works, location=shed)
    plain = works.piece(State.CLEANED)
    page = bench.get("/examinations/sheet")
    assert lines(page) == {works.crate.path: [grouped(code(here))], shed.path: [grouped(code(there))]}
    assert code(plain) not in text_of(page), "a visual examination is no crack check"
    assert lines(bench.get("/examinations/sheet", {"at": shed.path})) == {shed.path: [grouped(code(there))]}
    assert lines(bench.get("/examinations/sheet", {"for": "visual"})) == {works.crate.path: [grouped(code(plain))]}


def test_a_line_says_material_surfaces_method_and_last_finding(bench, works):
    place = works.plain_place(crack_check="any", material="gunmetal", surfaces=["bore", "flange"])
    piece = works.piece(State.CLEANED, place=place)
    signed(bench, piece, PT | NO_WAY_IN | {"reached-0": "flange"}, marks({"length": "5", "where": "flange"}))
    decide(piece.examinations.get(), works.people.engineer, decision="re-examine", reason="dress it")
    (group,) = bench.get("/examinations/sheet").context["sheet"].groups
    (line,) = group.lines
    assert (line.material, line.surfaces) == ("gunmetal", "bore, flange")
    assert line.method == "any method. Proposed: Penetrant, as a magnet does not hold it (gunmetal)."
    assert "flange, 5 mm. Decided: re-examine." in line.last


def test_too_many_for_one_sheet_are_counted(bench, works, monkeypatch):
    monkeypatch.setattr("inspections.examinations.day_sheet.MOST", 2)
    for _ in range(5):
        to_check(works)
    sheet = bench.get("/examinations/sheet").context["sheet"]
    assert (sheet.number, sheet.left_out) == (2, 3)


@pytest.mark.needs_poppler
def test_on_paper_each_code_is_read_back_and_stands_in_clear(works, shed, tmp_path):
    pieces = [to_check(works, location=shed) for _ in range(7)]
    pdf = render(day_sheet("crack check", Worklist(days(0))), "http://works.example")
    drawn = [address for page in pages(pdf, tmp_path) for address in read_back(page)]
    assert drawn == [f"HTTP://WORKS.EXAMPLE/T/{code(piece)}" for piece in pieces]
    text = printed_text(pdf, tmp_path)
    for piece in pieces:
        assert grouped(code(piece)) in text
    assert "journal, wheel seat" in text
    assert "Wheel shed (7)" in text


@pytest.mark.needs_poppler
def test_long_words_and_strange_letters_stay_on_the_page(works, tmp_path):
    place = works.critical_place(calls_for=[], name="Čep " + "x" * 100, material="<b>steel & iron</b>")
    works.piece(State.CLEANED, place=place)
    text = printed_text(render(day_sheet("crack check", Worklist(days(0)))), tmp_path)
    assert "<b>steel & iron</b>" in text


def test_the_paper_is_the_same_each_time(works):
    to_check(works)
    sheet = day_sheet("crack check", Worklist(days(0)))
    assert render(sheet, "http://works.example") == render(sheet, "http://works.example")


def test_the_pages_answer_whatever_is_asked(bench, works):
    for address in ("/examinations/", "/examinations/sheet", "/examinations/sheet.pdf"):
        answer = bench.get(address, {"for": "x\0", "at": "nowhere\0", "page": "junk"})
        assert answer.status_code == 200
        assert bench.post(address).status_code == 405
    assert bench.get("/examinations/sheet.pdf")["Content-Type"] == "application/pdf"
    bench.logout()
    for address in ("/examinations/", "/examinations/sheet", "/examinations/sheet.pdf"):
        assert bench.get(address).status_code == 302
