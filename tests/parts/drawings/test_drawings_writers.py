"""Drawings as they are entered, scanned, said to be good for something, and settled where two disagree."""

import pytest
from django.core.files.base import ContentFile

from core.domain.refusals import Refused
from core.models import Event
from parts.drawings.writers import drawings
from parts.models import Conflict, Drawing


def a_drawing(works, number="GW/114", **entered) -> Drawing:
    return drawings.add_drawing(works.people.fitter, **{"number": number, "title": "cylinder"} | entered)


def refused(do, *args, **entered) -> list[str]:
    with pytest.raises(Refused) as caught:
        do(*args, **entered)
    return [refusal.code for refusal in caught.value.refusals]


def test_it_is_entered_with_what_is_known(works):
    place = works.plain_place(drawing="gw 114")
    scan = ContentFile(b"%PDF-1.4 invented", name="scan.pdf")
    drawing = a_drawing(works, dated="1911", sheet="2", original="county record office, box 12", scan=scan)
    assert (str(drawing), drawing.dated, drawing.lies) == ("GW/114, sheet 2", "1911", "county record office, box 12")
    assert drawing.papers.get().suffix == ".pdf"
    assert list(Drawing.objects.for_place(place)) == [drawing]
    assert Event.objects.get(action="enter drawing").actor == works.people.fitter


def test_one_sheet_is_entered_once_however_its_number_is_spelt(works):
    a_drawing(works, sheet="2")
    assert refused(a_drawing, works, "gw 114", sheet="2") == ["number"]
    assert a_drawing(works, "gw 114", sheet="3").pk


def test_of_two_who_enter_one_sheet_at_the_same_moment_the_second_is_told(works, monkeypatch):
    a_drawing(works)
    queryset = type(Drawing.objects.all())
    look, looks = queryset.same_as, iter([lambda self, drawing: None])
    monkeypatch.setattr(queryset, "same_as", lambda self, drawing: next(looks, look)(self, drawing))
    assert refused(a_drawing, works) == ["number"]
    assert Drawing.objects.count() == 1


@pytest.mark.parametrize(
    ("entered", "code"),
    [
        ({"number": " – "}, "number"),
        ({"title": " "}, "title"),
        ({"dated": "2999"}, "dated"),
        ({"sheet": "x" * 21}, "sheet"),
    ],
)
def test_bad_input_writes_nothing(works, entered, code):
    assert refused(a_drawing, works, **entered) == [code]
    assert not Drawing.objects.exists()


def test_a_scan_is_a_pdf_or_a_picture(works):
    page = ContentFile(b"<html>", name="scan.pdf")
    assert refused(a_drawing, works, scan=page) == ["paper"]
    assert not Drawing.objects.exists()
    assert refused(drawings.add_scan, a_drawing(works), works.people.fitter, None) == ["scan"]


@pytest.mark.engine
def test_the_edit_says_what_it_was_before_and_a_late_one_is_refused(works):
    drawing = a_drawing(works, dated="1911")
    seen = drawing.last_event
    drawings.edit_drawing(drawing, works.people.manager, title="cylinder, outside", dated="1912", seen=seen)
    changed = Event.objects.get(action="describe drawing").data["changed"]
    assert changed == {"title": ["cylinder", "cylinder, outside"], "dated": ["1911", "1912"]}
    assert refused(drawings.edit_drawing, drawing, works.people.manager, title="x", dated="", seen=seen) == ["stale"]


@pytest.mark.engine
def test_what_it_is_good_for_says_how_that_is_known_and_stands_once(works):
    drawing, by = a_drawing(works), works.people.manager
    row = drawings.good_for(drawing, by, locomotive=works.locomotive, how="by measuring", note="bore and centres")
    drawings.good_for(drawing, by, words="the whole class", how="by tradition")
    assert refused(drawings.good_for, drawing, by, locomotive=works.locomotive, how="on the drawing") == ["locomotive"]
    assert refused(drawings.good_for, drawing, by, words="others", how="somebody said") == ["how"]
    assert refused(drawings.good_for, drawing, by, how="by tradition") == ["locomotive"]
    drawings.not_good_for(row, by)
    assert [str(left) for left in drawing.good_for.all()] == ["the whole class"]
    assert Event.objects.get(action="drawing not good for").data["how"] == "by measuring"


def a_conflict(works) -> Conflict:
    place = works.plain_place()
    first, second = a_drawing(works), a_drawing(works, "GW 208")
    return drawings.note_conflict(
        place, works.people.fitter, about="bore", sides=[(first, "15 in"), (second, "15 1/2 in")]
    )


def test_two_that_disagree_stand_side_by_side_until_the_engineer_settles_it(works):
    conflict = a_conflict(works)
    assert [side.says for side in conflict.sides.all()] == ["15 in", "15 1/2 in"]
    assert refused(drawings.settle_conflict, conflict, works.people.fitter, settled="the first") == ["role"]
    assert refused(drawings.settle_conflict, conflict, works.people.engineer, settled=" ") == ["settled"]
    holds = conflict.sides.first().drawing
    drawings.settle_conflict(conflict, works.people.engineer, settled="15 in, as measured.", rests_on=holds)
    assert refused(drawings.settle_conflict, conflict, works.people.engineer, settled="no, the other") == ["settled"]
    assert not Conflict.objects.open().exists()


@pytest.mark.parametrize("says", [("15 in", ""), ("15 in", "15 IN")])
def test_a_conflict_is_between_two_that_say_different_things(works, says):
    sides = list(zip((a_drawing(works), a_drawing(works, "GW 208")), says, strict=True))
    wrong = refused(drawings.note_conflict, works.plain_place(), works.people.fitter, about="bore", sides=sides)
    assert wrong == ["sides"]


def test_a_volunteer_reads_and_does_not_write(works):
    entered = {"number": "1", "title": "x"}
    assert refused(drawings.add_drawing, works.people.volunteer, **entered) == ["role"]
