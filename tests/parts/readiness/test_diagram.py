"""The drawing of a locomotive on the pages about it, and as a file."""

import re
from xml.etree import ElementTree

import pytest

from parts.domain.words import State
from parts.models import GoesOnAfter, Locomotive
from parts.queries.engines import engine_of
from parts.structure.writers.structure import add_subassembly
from tests.factories import a_works

pytestmark = pytest.mark.django_db
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def works(module_db):
    """A tank locomotive with frames of which two places of three are refitted, and a cab that is ready."""
    works = a_works()
    drawable(works)
    for state in (State.REFITTED, State.REFITTED, State.STRIPPED):
        works.taken_over(state, works.plain_place(subassembly=works.frames))
    cab = add_subassembly(works.locomotive, "Cab", works.people.manager)
    works.taken_over(State.ACCEPTED, works.plain_place(subassembly=cab, side="RH"))
    return works


@pytest.fixture
def reader(client, works):
    client.force_login(works.people.trustee)
    return client


def drawable(works):
    Locomotive.objects.filter(pk=works.locomotive.pk).update(wheels="2-6-0T", gauge="1000 mm")
    works.locomotive.refresh_from_db()


def top(works) -> str:
    return f"/l/{works.locomotive.slug}/"


def pictures(answer) -> list[ElementTree.Element]:
    """Every drawing of a page, as trees."""
    found = re.findall(r'<svg xmlns="[^"]+" class="diagram.*?</svg>', answer.content.decode(), re.DOTALL)
    return [ElementTree.fromstring(svg) for svg in found]


def links(svg) -> dict[str, str]:
    return {link.get("href"): link.get("aria-label") for link in svg.iter(f"{SVG}a")}


# --- readiness


def test_each_part_leads_to_its_subassembly_and_says_how_far_it_is(reader, works):
    desk, phone = pictures(reader.get(top(works)))
    assert links(desk) == {
        f"{top(works)}s/frames/": "Frames: 2 of 3 refitted, 1 blocked",
        f"{top(works)}s/cab/": "Cab: 0 of 1 refitted, 1 ready",
    }
    assert "2 of 4 refitted, 1 ready, 1 blocked" in desk.get("aria-label")
    assert sorted(links(phone).values())[0] == "Front: nothing required"


def test_the_other_side_is_one_link_away(reader, works):
    lh, rh = reader.get(top(works)), reader.get(top(works), {"side": "RH"})
    assert "facing left" in pictures(lh)[0].get("aria-label")
    assert "facing right" in pictures(rh)[0].get("aria-label")
    assert "See the RH side" in lh.content.decode()
    assert "See the LH side" in rh.content.decode()


def test_a_zone_leaves_the_subassemblies_that_stand_there(reader, works):
    def names(**asked):
        return [row.name for row in reader.get(top(works), asked).context["rows"]]

    assert names() == names(zone="nowhere", side="upside down") == ["Frames", "Cab"]
    assert (names(zone="front"), names(zone="middle"), names(zone="rear")) == ([], ["Frames"], ["Cab"])


def test_a_zone_with_nothing_in_it_still_shows_the_drawing_and_the_way_back(reader, works):
    answer = reader.get(top(works), {"zone": "front"})
    assert len(pictures(answer)) == 2
    assert "Show all" in answer.content.decode()


def test_two_drawings_on_a_page_share_no_name(reader, works):
    ids = [element.get("id") for svg in pictures(reader.get(top(works))) for element in svg.iter() if element.get("id")]
    assert len(ids) == len(set(ids)) > 10


def test_where_the_wheels_cannot_be_read_there_are_named_boxes(reader, works):
    Locomotive.objects.filter(pk=works.locomotive.pk).update(wheels="", gauge="")
    desk, _ = pictures(reader.get(top(works)))
    assert len(links(desk)) == 2
    assert not list(desk.iter(f"{SVG}use"))


def test_a_drawing_carries_no_style_that_the_page_may_not_have(reader, works):
    for page in (top(works), "/"):
        assert not re.search(r"\sstyle=|<style", reader.get(page).content.decode())


# --- home


def test_home_shows_the_locomotive_looked_at_last(reader, works):
    other = a_works(people=works.people)
    reader.get(top(works))
    desk, phone = pictures(reader.get("/"))
    assert f"{top(works)}s/frames/" in links(desk)
    assert len(links(phone)) == 3
    reader.get(top(other))
    assert f"{top(works)}s/frames/" not in reader.get("/").content.decode()


# --- the file


@pytest.mark.parametrize("side", ["LH", "RH"])
def test_the_file_is_a_drawing_that_stands_by_itself(reader, works, side):
    answer = reader.get(f"{top(works)}diagram.svg", {"side": side})
    assert answer["Content-Type"] == "image/svg+xml"
    assert re.fullmatch(
        rf'attachment; filename="{works.locomotive.slug}-{side}-\d{{4}}-\d\d-\d\d\.svg"', answer["Content-Disposition"]
    )
    drawn = ElementTree.fromstring(answer.content)
    words = [text.text for text in drawn.iter(f"{SVG}text")]
    assert words[0].startswith(works.locomotive.name)
    assert side in words
    assert drawn.get("width") == "180mm"
    assert "2 of 4 refitted" in drawn.get("aria-label")
    assert not re.search(rb'Canvas|currentColor|href="/', answer.content)


def test_a_side_that_no_locomotive_has_is_not_found(reader, works):
    assert reader.get(f"{top(works)}diagram.svg", {"side": "top"}).status_code == 404
    assert reader.get("/l/none/diagram.svg").status_code == 404


def test_a_stranger_signs_in_first_and_nobody_posts(client, reader, works):
    assert reader.post(f"{top(works)}diagram.svg").status_code == 405
    client.logout()
    assert client.get(f"{top(works)}diagram.svg").status_code == 302


def test_a_loop_in_the_order_leaves_no_file(reader, works):
    motion = add_subassembly(works.locomotive, "Motion", works.people.manager, after=[works.frames])
    GoesOnAfter.objects.create(subassembly=works.frames, after=motion)
    assert reader.get(f"{top(works)}diagram.svg").status_code == 404


# --- what the structure tells


def test_a_tender_stands_on_as_many_axles_as_it_has_wheelsets(works):
    for axle in ("first tender", "second tender", "third tender", "fourth tender"):
        works.place(name="tender wheelset", axle=axle)
    works.place(name="return crank", side="LH")
    works.place(name="tender wheel centre", axle="first tender")
    engine = engine_of(works.locomotive)
    assert (engine.tender_axles, engine.outside_gear, engine.gauge_mm) == (4, True, 1000)


def test_without_any_the_usual_is_taken(works):
    assert engine_of(works.locomotive).tender_axles == 3
