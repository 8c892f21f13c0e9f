"""Signing looks of a built-up piece that was left whole, and going on with it. Common practice, no source."""

import pytest

from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Method, State
from tests.factories import ACCEPTING, fresh, how_checked
from tests.inspections.cracks.test_crack_check import MT, at, bench, text_of
from tests.parts.actions.standard import refused, standing

__all__ = ["bench"]

WHY = {"reasons": {"surface-missed": "only what is inside", "material-unknown": "a magnet holds"}}


@pytest.fixture
def wheelset(works):
    """Cleaned, whole: it calls for an ultrasonic check; its crank pin and its axle for magnetic particle."""
    outer = works.plain_place(name="wheelset", crack_check="ultrasonic", material="steel", safety_critical=True)
    for name in ("axle", "crank pin"):
        works.place(
            name=name, end=outer.end, part_of=outer, crack_check="magnetic particle", safety_critical=True,
            material="steel",
        )  # fmt: skip
    works.place(name="paint", end=outer.end, part_of=outer)
    return works.piece(State.CLEANED, place=outer)


def words(wheelset, name: str) -> str:
    return wheelset.place.inner.get(name=name).words


def check(works, wheelset, method, **entered):
    entered = {"result": "sound", "check": how_checked(method, **WHY)} | entered
    record = sign(wheelset, works.people.examiner, kind=Kind.CRACK_CHECK, method=method, **entered)
    fresh(wheelset)
    return record


def test_left_whole_it_is_accepted_only_when_each_place_inside_was_reached_or_reached_otherwise(works, wheelset):
    axle, pin = words(wheelset, "axle"), words(wheelset, "crank pin")
    check(works, wheelset, Method.ULTRASONIC)
    assert (wheelset.state, standing(wheelset.place)) == (State.CLEANED, ("blocked", "crack-check"))
    with refused("not-crack-checked", "look-missing"):
        works.do("accept", wheelset, works.people.engineer, **ACCEPTING)
    record = check(works, wheelset, Method.MAGNETIC_PARTICLE, reached=[pin], not_reached=[axle])
    assert (record.reached, record.not_reached) == ([pin], [axle])
    assert record.crack_check.answers == []  # out of reach inside is an answer, and asks for no reason
    assert wheelset.state == State.CLEANED
    check(works, wheelset, Method.ULTRASONIC, reached=[axle])
    assert wheelset.state == State.CRACK_CHECKED
    works.do("accept", wheelset, works.people.second_engineer or works.people.engineer, **ACCEPTING)
    assert standing(fresh(wheelset).place) == ("ready", "")


def test_broken_down_each_place_inside_counts_by_itself(works, wheelset):
    works.do("break down", wheelset, works.people.fitter)
    works.clean(wheelset)
    check(works, wheelset, Method.ULTRASONIC)
    assert wheelset.state == State.CRACK_CHECKED


def test_a_place_is_not_both_reached_and_out_of_reach(works, wheelset):
    axle = words(wheelset, "axle")
    with refused("inside_not_reached"):
        check(works, wheelset, Method.MAGNETIC_PARTICLE, reached=[axle], not_reached=[axle])


# --- on the page


def test_the_piece_says_of_each_place_inside_whether_it_was_reached(bench, works, wheelset):
    page = f"/t/{wheelset.tags.current_code()}"
    assert "not examined yet on the whole piece" in text_of(bench.get(page))
    check(works, wheelset, Method.MAGNETIC_PARTICLE, reached=[words(wheelset, "axle"), words(wheelset, "crank pin")])
    text = text_of(bench.get(page))
    assert text.count("examined on the whole piece") == 2
    assert "not looked at yet" not in text
    inside = text_of(bench.get(wheelset.place.inner.get(name="axle").get_absolute_url()))
    assert "Its look is signed there, on the whole piece" in inside


def test_the_page_offers_what_is_inside_with_nothing_ticked(bench, works, wheelset):
    page = bench.get(at(wheelset))
    form = page.context["form"]
    offered = [value for value, _ in form.fields["inside_reached"].choices]
    assert offered == [words(wheelset, "axle"), words(wheelset, "crank pin")]
    assert not form["inside_reached"].value()
    assert not form["inside_not_reached"].value()
    assert "Inside it, reached on the whole piece" in text_of(page)


def test_what_is_ticked_is_on_record(bench, works, wheelset):
    sent = {name: value for name, value in MT.items() if not name.startswith("reached")}
    axle, pin = words(wheelset, "axle"), words(wheelset, "crank pin")
    both = sent | {"inside_reached-0": axle, "inside_not_reached-0": axle}
    assert bench.post(at(wheelset), both).status_code == 422
    entered = sent | {"inside_reached-1": pin, "inside_not_reached-0": axle}
    assert bench.post(at(wheelset), entered).status_code == 302
    record = wheelset.examinations.get()
    assert (record.reached, record.not_reached) == ([pin], [axle])


def test_a_piece_without_places_inside_is_asked_nothing_of_them(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="any"))
    assert "inside_reached" not in bench.get(at(piece)).context["form"].fields


def test_the_plain_form_offers_them_too(bench, works):
    outer = works.plain_place(name="piston")
    nut = works.place(name="piston nut", end=outer.end, part_of=outer, safety_critical=True)
    piece = works.piece(State.CLEANED, place=outer)
    address = f"/t/{piece.tags.current_code()}/examine"
    assert "Piston nut" in text_of(bench.get(address))
    entered = {"look": "visual", "result": "sound", "on": piece.since.isoformat(), "inside_reached-0": nut.words}
    assert bench.post(address, entered).status_code == 302
    assert piece.examinations.get().reached == [nut.words]
    assert standing(fresh(piece).place) == ("blocked", "sign")
