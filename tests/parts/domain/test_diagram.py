"""The drawings as SVG: well-formed, named, linked, and with the right share inked."""

import gzip
import re
from xml.etree import ElementTree

import pytest

from parts.domain.diagram.drawings import description, for_desk, for_phone, for_print, locator, silhouette, zone_of
from parts.domain.diagram.engine import Engine
from parts.domain.diagram.parts_table import part_of, parts, parts_of_codes
from tests.parts.domain.diagram_engines import ENGINES, SPECS, engine_of, row, rows_of
from tests.tables import for_each

TANK = SPECS[4]
ENGINE = engine_of(TANK)
ZONES = {"front": "?zone=front", "middle": "?zone=middle", "rear": "?zone=rear"}
every = pytest.mark.parametrize("spec", SPECS, ids=lambda spec: str(spec.wheels))


def tree(svg):
    return ElementTree.fromstring(svg)


def found(svg, tag):
    return list(tree(svg).iter(f"{{http://www.w3.org/2000/svg}}{tag}"))


def part_at(svg, href):
    return next(link for link in found(svg, "a") if link.get("href") == href)


def heights(element):
    return [float(rect.get("height")) for rect in element.iter("{http://www.w3.org/2000/svg}rect")]


@every
def test_every_subassembly_of_a_structure_is_a_part_or_a_named_box(spec):
    rows = rows_of(spec, in_place=10)
    svg = for_desk(engine_of(spec), rows)
    named = {link.get("href") for link in found(svg, "a")}
    parts_linked = {part_of(row, engine_of(spec)) for row in rows if row.href in named}
    lost = [row.name for row in rows if row.href not in named and part_of(row, engine_of(spec)) not in parts_linked]
    assert lost == []


@for_each("engine", ENGINES, ids=lambda engine: engine.wheels)
def test_every_arrangement_is_drawn_in_every_way(engine):
    rows = rows_of(TANK, refitted=4, ready=3)
    for svg in (for_desk(engine, rows), for_print(engine, rows), for_phone(engine, rows, ZONES),
                locator(engine, "cab"), silhouette(engine)):  # fmt: skip
        assert len(found(svg, "path")) > 3
        assert tree(svg).get("viewBox")


@every
def test_a_desk_drawing_is_not_heavy(spec):
    """About 25 kB as it comes in; with every single part half done it is more, packed for the wire a third of that."""
    engine = engine_of(spec)
    assert len(for_desk(engine, rows_of(spec, in_place=10))) < 27_000
    assert len(gzip.compress(for_desk(engine, rows_of(spec, refitted=4, ready=3)).encode())) < 9_000


def test_a_part_is_a_link_that_says_its_counts():
    svg = for_desk(ENGINE, [row("axleboxes", "Axleboxes", required=18, refitted=10, ready=6), row("cab", required=1)])
    assert part_at(svg, "/axleboxes").get("aria-label") == "Axleboxes: 10 of 18 refitted, 6 ready, 2 blocked"
    assert part_at(svg, "/cab").get("aria-label") == "Cab: 0 of 1 refitted, 1 blocked"


def test_on_paper_nothing_is_a_link_and_it_is_180_mm_wide():
    svg = for_print(ENGINE, rows_of(TANK, refitted=4))
    assert found(svg, "a") == []
    assert tree(svg).get("width") == "180mm"
    assert tree(svg).get("role") == "img"


@pytest.mark.parametrize(("refitted", "ready"), [(1, 3), (5, 4), (9, 0), (0, 7)])
def test_hatch_and_solid_reach_as_high_as_the_counts_say(refitted, ready):
    """Against the same part when nothing is clipped: the height of its band at one tenth is a tenth of the whole."""
    cab = [row("cab", required=10, refitted=refitted, ready=ready)]
    tenth = heights(part_at(for_desk(ENGINE, [row("cab", required=10, refitted=1)]), "/cab"))[0]
    expected = [tenth * (refitted + ready)] if ready else []
    expected += [tenth * refitted] if refitted else []
    assert heights(part_at(for_desk(ENGINE, cab), "/cab")) == pytest.approx(expected, abs=0.6)


def test_what_is_missing_is_chain_dashed_and_what_is_complete_is_not():
    missing = for_desk(ENGINE, [row("cab", required=2, missing=2)])
    complete = for_desk(ENGINE, [row("cab", required=2, refitted=2)])
    in_place = for_desk(ENGINE, [row("cab", required=2, in_place=2)])

    def dashes(svg):
        return {group.get("stroke-dasharray") for group in part_at(svg, "/cab").iter()} - {None}

    def solid(svg):
        return [group for group in part_at(svg, "/cab").iter() if group.get("fill") == "currentColor"]

    assert len(dashes(missing)) == 1
    assert len(next(iter(dashes(missing))).split()) == 4  # a long dash, a gap, a dot, a gap
    assert dashes(complete) == dashes(in_place) == set()
    assert solid(complete)
    assert not solid(missing)
    assert not solid(in_place)


def test_what_is_in_doubt_is_marked_outside_the_mirrored_shapes():
    svg = for_desk(ENGINE, [row("cab", required=2, refitted=2, in_doubt=1)], side="RH")
    marks = [group for group in found(svg, "g") if group.get("class") == "doubt"]
    assert len(marks) == 1
    assert marks[0][1].text == "?"


@pytest.mark.parametrize("draw", [for_desk, for_print])
def test_the_right_hand_side_mirrors_shapes_and_no_text(draw):
    left, right = (tree(draw(ENGINE, rows_of(TANK, in_doubt=1), side=side)) for side in ("LH", "RH"))
    mirrored = [group for group in right.iter() if (group.get("transform") or "").startswith("matrix(-1")]
    assert len(mirrored) == 1
    assert [element for element in mirrored[0].iter() if element.tag.endswith("}text")] == []
    assert [element for element in left.iter() if "matrix" in (element.get("transform") or "")] == []
    words = [element.text for element in right.iter() if element.tag.endswith("}text")]
    assert "RH" in words
    assert "LH" not in words


def test_two_drawings_on_a_page_share_no_id_and_use_only_their_own():
    rows = rows_of(TANK, refitted=4, ready=3)
    drawings = [for_desk(ENGINE, rows, key="left"), for_desk(ENGINE, rows, side="RH", key="right"),
                for_phone(ENGINE, rows, ZONES, key="phone"), locator(ENGINE, "cab", key="here")]  # fmt: skip
    ids = [re.findall(r' id="([^"]+)"', svg) for svg in drawings]
    assert len({name for names in ids for name in names}) == sum(len(names) for names in ids)
    for svg, names in zip(drawings, ids, strict=True):
        assert set(re.findall(r'(?:href="#|url\(#)([^")]+)', svg)) <= set(names)


def test_no_colour_is_fixed():
    for svg in (for_desk(ENGINE, rows_of(TANK, refitted=4, ready=3)), locator(ENGINE, "cab"), silhouette(ENGINE)):
        paints = set(re.findall(r'(?:fill|stroke|color)="([^"]+)"', svg))
        assert {paint for paint in paints if not paint.startswith("url(")} <= {"none", "currentColor", "Canvas"}
        assert "style=" not in svg


def test_a_phone_has_one_image_with_a_summary_and_three_links_that_a_thumb_can_press():
    rows = rows_of(TANK, refitted=4, ready=3)
    for side in ("LH", "RH"):
        svg = for_phone(ENGINE, rows, ZONES, side=side)
        images = [group for group in tree(svg).iter() if group.get("role") == "img"]
        links = found(svg, "a")
        assert len(images) == 1
        assert "4 of 10" not in images[0].get("aria-label")
        assert f"{4 * len(rows)} of {10 * len(rows)} refitted" in images[0].get("aria-label")
        assert [link.get("href") for link in links] == list(ZONES.values())
        rects = [next(link.iter("{http://www.w3.org/2000/svg}rect")) for link in links]
        assert min(float(rect.get(size)) for rect in rects for size in ("width", "height")) >= 48
        spans = sorted((float(rect.get("x")), float(rect.get("width"))) for rect in rects)
        assert all(x + wide <= next_x + 0.2 for (x, wide), (next_x, _) in zip(spans, spans[1:], strict=False))


def test_the_front_is_on_the_left_of_the_left_hand_side_and_on_the_right_of_the_other():
    def x(side):
        link = part_at(for_phone(ENGINE, rows_of(TANK), ZONES, side=side), ZONES["front"])
        return float(next(link.iter("{http://www.w3.org/2000/svg}rect")).get("x"))

    assert x("LH") == 0
    assert x("RH") > 180


def test_zones_on_a_phone_count_every_place_once():
    rows = rows_of(TANK, refitted=4)
    labels = [link.get("aria-label") for link in found(for_phone(ENGINE, rows, ZONES), "a")]
    assert sum(int(re.search(r"of (\d+)", label)[1]) for label in labels) == 10 * len(rows)
    assert {zone_of(row, ENGINE) for row in rows} == {"front", "middle", "rear"}


def test_a_locator_inks_one_part_and_says_the_side():
    svg = locator(ENGINE, "cab", side="RH", name="Cab")
    assert tree(svg).get("aria-label") == "Cab, RH"
    assert tree(svg).get("height") == "72"
    assert [element.text for element in found(svg, "text")] == ["RH"]
    assert len([group for group in found(svg, "g") if group.get("fill") == "currentColor"]) == 1
    hidden = locator(ENGINE, "axleboxes")  # between the frames: the wheels that hide them are inked
    assert hidden.replace("Axleboxes", "") == locator(ENGINE, "wheelsets").replace("Wheelsets", "")


@pytest.mark.parametrize("wheels", ["", "rail crane", "Bo'Bo'", "0-5-0"])
def test_what_cannot_be_read_shows_named_boxes_only(wheels):
    engine, rows = Engine(wheels=wheels), rows_of(TANK, refitted=4)
    svg = for_desk(engine, rows)
    assert {link.get("href") for link in found(svg, "a")} == {row.href for row in rows}
    assert found(svg, "use") == []
    assert {f"{row.name}: 4 of 10" for row in rows} <= {element.text for element in found(svg, "text")}
    assert len(found(for_phone(engine, rows, ZONES), "a")) == 3
    assert locator(engine, "cab") == silhouette(engine) == ""
    assert "not drawn" in description(engine, rows)


def test_the_description_says_what_is_complete_begun_in_doubt_and_missing():
    rows = [row("cab", "Cab", required=2, refitted=2), row("regulator", "Dome", required=3, refitted=1, in_doubt=1),
            row("tanks", "Tanks", required=5, missing=5)]  # fmt: skip
    assert description(Engine(wheels="2-6-0T", gauge_mm=1000), rows) == (
        "2-6-0T, gauge 1000 mm, left-hand side, facing left. 3 of 10 refitted, 7 blocked, 1 in doubt. Complete: Cab. "
        "Begun: Dome. In doubt: Dome. Missing: Tanks."
    )
    assert description(ENGINE, []).endswith("Nothing is required yet.")


def test_words_from_the_register_are_escaped():
    svg = for_desk(ENGINE, [row("odd", 'Lamp <i> & "bell"\x07', required=1)])
    assert 'Lamp <i> & "bell": 0 of 1' in {element.text for element in found(svg, "text")}


@pytest.mark.parametrize("draw", [for_desk, for_print])
def test_another_side_is_refused(draw):
    with pytest.raises(ValueError, match="LH or RH"):
        draw(ENGINE, [], side="left")


def test_the_tables_agree():
    table = parts()
    assert set(parts_of_codes().values()) <= set(table)
    for part in table.values():
        seen = [part.key]
        while table[seen[-1]].otherwise:
            seen.append(table[seen[-1]].otherwise)
            assert len(seen) == len(set(seen)) <= len(table), f"{part.key} goes round in a circle"


def test_the_longest_beginning_of_a_code_says_its_part():
    assert part_of(row("truck-wheels-leading"), ENGINE) == "truck-leading"
    assert part_of(row("wheelset-leading-intermediate"), ENGINE) == "wheels"
    assert part_of(row("cylinders-inside"), ENGINE) == ""  # hidden behind the outside ones
    assert part_of(row("cylinders-inside"), Engine(wheels="0-6-0", outside_cylinders=False)) == "cylinders"
    assert part_of(row("boiler-mountings"), ENGINE) == "mountings"
    assert part_of(row("boiler-anything"), ENGINE) == "boiler"
    assert part_of(row("lubrication"), ENGINE) == ""


def test_what_is_missing_hides_nothing_and_what_stands_hides_what_is_behind():
    def hides(**counts):
        link = part_at(for_desk(ENGINE, [row("tanks", required=2, **counts)]), "/tanks")
        return any(element.get("class") == "paper" for element in link.iter())

    assert hides(in_place=2)
    assert hides(refitted=2)
    assert not hides(missing=2)
    assert not hides()


def test_named_boxes_go_on_in_lines_within_the_width():
    rows = [row(f"odd-{n}", f"Something that is not drawn, number {n}", required=1) for n in range(12)]
    texts = [element for element in found(for_desk(ENGINE, rows), "text") if "number" in (element.text or "")]
    assert len(texts) == 12
    assert max(float(element.get("x")) + 6.6 * len(element.text) for element in texts) <= 960
    assert len({element.get("y") for element in texts}) > 2


def test_what_requires_nothing_makes_no_box():
    svg = for_desk(ENGINE, [row("odd", "Odd"), row("other", "Other", required=1)])
    assert {link.get("href") for link in found(svg, "a")} == {"/other"}


SLUNG = Engine(wheels="0-4-0+0-4-0", gauge_mm=610, valve_gear="Walschaerts")


def test_each_engine_unit_has_its_own_wheels_and_cylinders():
    rows = [
        row("wheelsets-front-engine", "Front engine wheelsets", required=4, refitted=4),
        row("wheelsets-rear-engine", "Rear engine wheelsets", required=4, missing=4),
        row("cylinders-rear-engine-outside", required=2),
        row("slide-bars-rear-engine-outside", required=2),
    ]
    svg = for_desk(SLUNG, rows)
    front, rear = part_at(svg, "/wheelsets-front-engine"), part_at(svg, "/wheelsets-rear-engine")
    assert front.get("aria-label") == "Front engine wheelsets: 4 of 4 refitted"
    assert (front.get("class"), rear.get("class")) == ("part is-complete", "part is-missing")
    assert zone_of(rows[0], SLUNG) == "front"
    assert {row.href for row in rows} == {link.get("href") for link in found(svg, "a")}


def test_rows_that_name_no_engine_unit_are_shown_by_all_of_them():
    svg = for_desk(SLUNG, [row("wheelsets", "Wheelsets", required=8, refitted=8)])
    links = [link for link in found(svg, "a") if link.get("href") == "/wheelsets"]
    assert [link.get("aria-label") for link in links] == ["Wheelsets: 8 of 8 refitted"] * 2


def test_a_locator_inks_the_wheels_of_one_engine_unit():
    def inked(code):
        return [group for group in found(locator(SLUNG, code), "g") if group.get("fill") == "currentColor"]

    assert locator(SLUNG, "wheelsets-front-engine") != locator(SLUNG, "wheelsets-rear-engine")
    assert len(inked("cylinders-front-engine-outside")) == 1
    assert len(inked("cylinders-outside")) == 2
