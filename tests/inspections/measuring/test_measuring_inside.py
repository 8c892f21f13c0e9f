"""Named sizes of what is inside a built-up piece that is left whole: measured on the whole piece, or noted as out of
reach. Common practice, no source."""

import re

import pytest

from core.domain.refusals import Refused
from inspections.provider.loading import load_sizes
from parts.domain.words import State
from tests.factories import ACCEPTING, days, fresh
from tests.inspections.measuring.test_measure import at, bench, micrometer, text_of, typed

__all__ = ["bench", "micrometer"]


@pytest.fixture
def wheelset(works):
    """Cleaned and whole, with a size of its own, a pin measured on it, and a rim out of reach."""
    outer = works.plain_place(name="wheelset")
    works.dimension(outer, "back to back")
    for name in ("crank pin", "wheel centre"):
        works.dimension(works.place(name=name, end=outer.end, part_of=outer, safety_critical=True), "diameter")
    works.dimension(works.place(name="paint", end=outer.end, part_of=outer), "thickness")
    return works.piece(State.CLEANED, place=outer)


def sizes_of(wheelset) -> dict:
    own = wheelset.place.dimensions.get()
    pin, centre = (wheelset.place.inner.get(name=name).dimensions.get() for name in ("crank pin", "wheel centre"))
    return {"own": own, "pin": pin, "centre": centre}


def sheet(wheelset, micrometer, *names, **more) -> dict:
    sizes = sizes_of(wheelset)
    entered = {"do": "sign", "seen": wheelset.last_event, "result": "sound", "on": days(0)}
    for name in names:
        entered |= typed(sizes[name], micrometer, "124.98")
    return entered | more


def test_each_safety_critical_size_inside_stands_on_the_sheet_by_its_place(bench, wheelset):
    heads = re.findall(r'id="size-[0-9]+-head">(.*?)</h2>', text_of(bench.get(at(wheelset))))
    inner = [sizes_of(wheelset)[name].position.words.capitalize() for name in ("pin", "centre")]
    assert heads == ["Back to back", *(f"{words}: diameter" for words in inner)], "and none of the paint"


def test_it_is_owed_each_until_measured_or_noted_with_a_reason(bench, works, wheelset, micrometer):
    sizes = sizes_of(wheelset)
    works.look_at(wheelset)
    bench.post(at(wheelset), sheet(fresh(wheelset), micrometer, "own", "pin"))
    with pytest.raises(Refused, match="is not measured"):
        works.do("accept", fresh(wheelset), works.people.engineer, **ACCEPTING)
    shut = {"shut-0": sizes["centre"].pk}
    asked = bench.post(at(wheelset), sheet(wheelset, micrometer, "own", **shut))
    assert asked.status_code == 422
    assert "Say why the sizes that are ticked could not be got at." in text_of(asked)
    bench.post(at(wheelset), sheet(wheelset, micrometer, "own", remarks="under the tyre", **shut))
    record = wheelset.examinations.filter(kind="dimensional").first()
    assert record.not_reached == [f"{sizes['centre'].position.words.capitalize()}: diameter"]
    (owed,) = [size for size in load_sizes({"pk": wheelset.pk}).of_piece(fresh(wheelset)) if not size.event]
    assert owed.inner == "wheel centre"


def test_broken_down_its_own_sizes_alone_are_asked(bench, works, wheelset):
    works.do("break down", wheelset, works.people.fitter)
    assert [size.name for size in load_sizes({"pk": wheelset.pk}).of_piece(wheelset)] == ["back to back"]


def test_no_concession_is_given_on_a_crank_pin_measured_on_the_whole_piece(bench, works, wheelset):
    record = works.measure(wheelset, {sizes_of(wheelset)["pin"]: "122.5"})
    answer = bench.post(f"/measurements/{record.measurements.get().pk}/concede", {})
    assert answer.status_code in (403, 404, 422)
    assert not record.measurements.get().concessions.exists()
