"""The drawing of a locomotive as a browser measures it: Chromium's own boxes, matrices and names."""

import pytest

from parts.domain.diagram.drawings import for_desk, for_phone
from parts.domain.diagram.engine import Engine, SubassemblyCounts

pytestmark = pytest.mark.needs_chromium

ENGINE = Engine(wheels="2-6-0T", gauge_mm=1000, valve_gear="Walschaerts")
SHARES = {"cab": (3, 4), "tanks": (5, 0), "smokebox": (1, 8), "wheelsets": (6, 2), "boiler": (0, 7), "bunker": (9, 0)}
ROWS = [
    SubassemblyCounts(
        code=code, name=code.capitalize(), required=10, refitted=refitted, ready=ready, href=f"/{code}", in_doubt=1
    )
    for code, (refitted, ready) in SHARES.items()
]
MEASURED = """link => {
  const box = link.getBBox();
  const bands = [...link.querySelectorAll('clipPath rect')].map(rect => rect.getBBox());
  return {height: box.height, foot: box.y + box.height,
          bands: bands.map(band => ({height: band.height, foot: band.y + band.height}))};
}"""


@pytest.fixture(scope="module")
def page(browser):
    page = browser.new_page(viewport={"width": 1000, "height": 1200})
    zones = {"front": "?front", "middle": "?middle", "rear": "?rear"}
    page.set_content(
        "<!doctype html><html lang=en><title>Drawings</title><body style='margin:0;width:960px'>"
        f"<div id=left>{for_desk(ENGINE, ROWS, key='left')}</div>"
        f"<div id=right>{for_desk(ENGINE, ROWS, side='RH', key='right')}</div>"
        f"<div id=phone style='width:360px'>{for_phone(ENGINE, ROWS, zones, key='phone')}</div>"
    )
    yield page
    page.close()


@pytest.mark.parametrize("code", SHARES)
def test_hatch_and_solid_cover_their_share_of_the_part_from_its_foot(page, code):
    refitted, ready = SHARES[code]
    found = page.locator(f"#left a[href='/{code}']").evaluate(MEASURED)
    shares = [(refitted + ready) / 10] * bool(ready) + [refitted / 10] * bool(refitted)
    assert [band["height"] / found["height"] for band in found["bands"]] == pytest.approx(shares, abs=0.012)
    assert [band["foot"] for band in found["bands"]] == pytest.approx([found["foot"]] * len(shares), abs=0.3)


def test_shapes_are_mirrored_and_text_is_not(page):
    scale = "element => element.getScreenCTM().a"
    for side, sign in (("left", 1), ("right", -1)):
        shape = page.locator(f"#{side} a[href='/cab'] path").first
        assert shape.evaluate(scale) * sign > 0
        assert min(page.locator(f"#{side} text").evaluate_all(f"all => all.map({scale})")) > 0


def test_the_chimney_is_ahead_of_the_cab_on_either_side(page):
    def middle(side, code):
        box = page.locator(f"#{side} a[href='/{code}']").bounding_box()
        return box["x"] + box["width"] / 2

    assert middle("left", "smokebox") < middle("left", "cab")
    assert middle("right", "smokebox") > middle("right", "cab")


def test_nothing_of_the_locomotive_is_below_the_rail(page):
    for side in ("left", "right"):
        foot = page.locator(f"#{side} .locomotive").evaluate("all => all.getBBox().y + all.getBBox().height")
        rail = page.locator(f"#{side} .rail").evaluate("rail => rail.getBBox().y")
        assert foot <= rail + 0.1


def test_parts_are_links_by_their_names(page):
    link = page.locator("#left").get_by_role("link", name="Cab: 3 of 10 refitted, 4 ready, 3 blocked, 1 in doubt")
    assert link.count() == 1
    page.locator("#left a").first.focus()
    assert page.evaluate("document.activeElement.tagName") == "a"


def test_on_a_phone_zones_are_large_enough_and_the_image_has_its_summary(page):
    phone = page.locator("#phone")
    boxes = [link.bounding_box() for link in phone.get_by_role("link").all()]
    assert len(boxes) == 3
    assert min(side for box in boxes for side in (box["width"], box["height"])) >= 48
    assert phone.get_by_role("img").count() == 1
    assert "24 of 60 refitted" in phone.get_by_role("img").get_attribute("aria-label")
