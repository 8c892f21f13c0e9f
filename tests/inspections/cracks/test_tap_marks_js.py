"""The script that sets marks on a photo, in a real browser against the real form, with no database behind it."""

import re
from pathlib import Path
from types import SimpleNamespace

import pytest
from django.contrib.auth import get_user_model
from django.template.loader import render_to_string

from inspections.cracks import crack_context
from inspections.cracks.forms.crack_checks import CrackCheckForm
from inspections.cracks.forms.marks import marks_form
from inspections.cracks.forms.still_to_say import Still
from inspections.models import Examination
from parts.models import Photo
from tests.pictures import a_photo

pytestmark = pytest.mark.needs_chromium
STATIC = Path(__file__).resolve().parents[3] / "static"
PHOTOS = [Photo(pk=1, name="front", width=1600, height=1200), Photo(pk=2, name="rear", width=800, height=1600)]


AS_OPENED = """() => {
    for (let out; (out = document.querySelector("[data-out]"));) out.click();
    document.querySelector("[data-marks]").closest("form").reset();
    document.querySelector('[data-photo="front"]').click();
    location.hash = "marks";
}"""


def the_form() -> str:
    """The page as the server sends it, for a piece with two photos and no mark yet."""
    form = CrackCheckForm(
        offered=[("penetrant", "Penetrant")], surfaces=[], earlier=Examination.objects.none(),
        engineers=get_user_model().objects.none(),
    )  # fmt: skip
    marks = marks_form(initial=[], photos={photo.name: photo for photo in PHOTOS})
    page = {
        "piece": SimpleNamespace(name="axle", state="cleaned", place=None),
        "code": "7K3M9QZ2",
        "form": form,
        "steps": form.steps(),
        "still": Still("Before signing: method.", "id_method"),
        "marks": marks,
        "photos": PHOTOS,
        "chosen": PHOTOS[0],
        "small": crack_context.small_size(PHOTOS[0]),
        "marked": crack_context.marked(PHOTOS[0], []),
    }
    return render_to_string("inspections/cracks/crack_check.html", page)


def with_its_files(html: str) -> str:
    """The same in one piece, since each file that a browser asks of a test costs as much as a page."""
    for tag, name in re.findall(r'(<link rel="stylesheet" href="[^"]*static/([^"]*)"[^>]*>)', html):
        html = html.replace(tag, f"<style>{(STATIC / name).read_text()}</style>" if "media" not in tag else "")
    for tag, name in re.findall(r'(<script src="[^"]*static/([^"]*)" defer></script>)', html):
        html = html.replace(tag, "") + f"<script>{(STATIC / name).read_text()}</script>"
    return html


@pytest.fixture(scope="module")
def window(browser):
    """Its page, and what was sent from it."""
    page, sent = browser.new_page(viewport={"width": 390, "height": 844}), []
    html, picture = with_its_files(the_form()), a_photo(size=(400, 300)).read()

    def answer(route):
        if route.request.method == "POST":
            if "missing" not in route.request.post_data:  # what is still to say is asked at each change
                sent.append(route.request)
            return route.fulfill(status=204)
        if "/photo/" in route.request.url:
            return route.fulfill(content_type="image/jpeg", body=picture)
        return route.fulfill(content_type="text/html", body=html)

    page.route("**/*", answer)
    page.goto("http://works.test/t/7K3M9QZ2/crack-check#marks")
    yield page, sent
    page.close()


@pytest.fixture
def page(window):
    """As it was opened, at the step of the marks."""
    page, sent = window
    page.evaluate(AS_OPENED)
    yield page
    assert sent == [], "a tap went to the server"


def tap(page, across, down):
    picture = page.locator(".tap input")
    box = picture.bounding_box()
    picture.click(position={"x": box["width"] * across, "y": box["height"] * down})


def values(page, name) -> list[str]:
    return [field.input_value() for field in page.locator(f'[data-marks] [name$="-{name}"]').all()]


def to_step(page, name):
    page.locator(".step:visible").get_by_role("link", name=name, exact=True).click()


def on_the_photo(page) -> list[str]:
    return page.locator(".marks-over text").all_text_contents()


def test_a_tap_sets_a_mark_where_the_server_would_draw_it_and_waits_for_its_length(page):
    tap(page, 0.25, 0.5)
    assert values(page, "photo") == ["front"]
    assert abs(float(values(page, "across")[0]) - 0.25) < 0.01
    assert abs(float(values(page, "down")[0]) - 0.5) < 0.01
    assert on_the_photo(page) == ["1"]
    assert page.evaluate("document.activeElement.name") == "mark-0-length"
    assert page.locator("[name=mark-TOTAL_FORMS]").input_value() == "1"
    (dot,) = crack_context.marked(PHOTOS[0], [(1, values(page, "across")[0], values(page, "down")[0])]).dots
    drawn = page.locator(".marks-over .mark-disc")
    assert abs(float(drawn.get_attribute("cx")) - float(dot.tag_x)) <= 1
    assert abs(float(drawn.get_attribute("cy")) - float(dot.tag_y)) <= 1


def test_a_mark_is_moved_and_keeps_its_size(page):
    """Which one the next tap moves is asked once there is one."""
    assert not page.locator("#moves").is_visible()
    tap(page, 0.2, 0.2)
    assert page.locator("#moves").is_visible()
    page.fill("[name=mark-0-length]", "5")
    tap(page, 0.8, 0.8)
    page.select_option("#moves", "1")
    tap(page, 0.5, 0.5)
    assert len(values(page, "across")) == 2
    assert abs(float(values(page, "across")[0]) - 0.5) < 0.01
    assert values(page, "length") == ["5", ""]


def test_taken_out_the_others_close_up(page):
    for across in (0.2, 0.5, 0.8):
        tap(page, across, 0.5)
    page.fill("[name=mark-2-length]", "9")
    page.select_option("[name=mark-1-unit]", "in")
    page.locator("[data-out]").nth(1).click()
    assert on_the_photo(page) == ["1", "2"]
    assert page.locator("[name=mark-1-length]").input_value() == "9"
    assert page.locator("[name=mark-2-length]").count() == 0
    assert page.locator("[name=mark-TOTAL_FORMS]").input_value() == "2"
    for _ in range(2):
        page.locator("[data-out]").first.click()
    assert not page.locator("#moves").is_visible()


def test_the_unit_of_the_last_one_is_taken_over(page):
    tap(page, 0.2, 0.2)
    page.select_option("[name=mark-0-unit]", "in")
    tap(page, 0.8, 0.2)
    assert values(page, "unit") == ["in", "in"]


def test_each_photo_shows_its_own_marks(page):
    tap(page, 0.2, 0.2)
    page.click('[data-photo="rear"]')
    assert on_the_photo(page) == []
    tap(page, 0.5, 0.5)
    assert on_the_photo(page) == ["2"]
    assert values(page, "photo") == ["front", "rear"]
    page.click('[data-photo="front"]')
    assert on_the_photo(page) == ["1"]


def test_one_without_a_photo_is_added_and_described(page):
    page.click("[data-add]")
    assert values(page, "photo") == [""]
    page.locator(".tap input").focus()
    page.keyboard.press("Enter")
    assert values(page, "across") == ["", ""]
    assert page.evaluate("document.activeElement.name") == "mark-1-where"


def test_only_what_the_method_needs_is_in_sight(page):
    page.evaluate("location.hash = 'reached'")
    dwell, magnetised = page.get_by_label("Penetrant dwell"), page.get_by_label("two directions about 90° apart")
    assert dwell.is_visible()
    assert magnetised.is_visible()
    to_step(page, "Method")
    page.check("[name=method][value=penetrant]")
    to_step(page, "Reached")
    assert dwell.is_visible()
    assert not magnetised.is_visible()


def test_one_step_is_in_sight_and_going_to_another_loses_nothing(page):
    """A screen for each: the address of a field leads to its step, and back leads back."""
    tap(page, 0.2, 0.2)
    page.fill("[name=mark-0-length]", "5")
    steps = page.locator(".step:visible")
    for step in ("Method", "Reached", "Result"):
        to_step(page, step)
        assert steps.count() == 1
        assert steps.get_attribute("id") == step.lower()
    page.evaluate("location.hash = 'mark-0-length'")
    page.evaluate("location.hash = 'id_procedure'")
    assert steps.get_attribute("id") == "method"
    page.go_back()
    to_step(page, "Marks")
    assert values(page, "length") == ["5"]
