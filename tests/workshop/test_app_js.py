"""The small script on every page, in a real browser against pages made up here."""

from pathlib import Path
from urllib.parse import urlsplit

import pytest

pytestmark = pytest.mark.needs_chromium
STATIC = Path(__file__).resolve().parents[2] / "static"


@pytest.fixture(scope="module")
def window(browser):
    """Its page, what is shown by address, and the requests for anything else."""
    page, shown, sent = browser.new_page(), {}, []

    def answer(route):
        at = urlsplit(route.request.url).path
        if route.request.is_navigation_request() and at in shown:
            return route.fulfill(content_type="text/html", body=shown[at])
        sent.append(route.request)
        return route.fulfill(status=204)

    page.route("**/*", answer)
    yield page, shown, sent
    page.close()


@pytest.fixture
def show(window):
    """Show a page with this body; gives the page, and the list of requests that were not for a page itself."""
    page, shown, sent = window
    shown.clear()
    scripts = "".join(f"<script>{(STATIC / one).read_text()}</script>" for one in ("vendor/htmx.min.js", "js/app.js"))

    def opened(body, at="/start"):
        shown[at] = f'<!doctype html><meta name="csrf-token" content="proof">{body}{scripts}'
        page.goto(f"http://works.test{at}")
        sent.clear()
        return page, sent

    return opened


FORM = '<form method="post" action="/clean"><button data-confirm="{}">Clean</button></form>'


def test_a_second_tap_sends_nothing(show):
    page, sent = show(FORM.format(""))
    page.click("button")
    page.click("button")
    page.wait_for_timeout(200)
    assert [request.method for request in sent] == ["POST"]


def test_a_form_that_answers_with_a_file_may_be_sent_again(show):
    page, sent = show(FORM.format("").replace("<form", "<form data-again"))
    page.click("button")
    page.wait_for_timeout(100)
    page.click("button")
    page.wait_for_timeout(200)
    assert len(sent) == 2


@pytest.mark.parametrize(("answer", "sendings"), [("accept", 1), ("dismiss", 0)])
def test_a_question_is_asked_first(show, answer, sendings):
    page, sent = show(FORM.format("Withdraw it?"))
    asked = []
    page.once("dialog", lambda dialog: (asked.append(dialog.message), getattr(dialog, answer)()))
    page.click("button")
    page.wait_for_timeout(200)
    assert (asked, len(sent)) == (["Withdraw it?"], sendings)


def test_a_search_may_be_sent_as_often_as_one_likes(show):
    page, sent = show('<form action="/find"><input name="q"><button>Find</button></form>')
    page.click("button")
    page.wait_for_timeout(100)
    page.click("button")
    page.wait_for_timeout(200)
    assert len(sent) == 2


def test_what_htmx_sends_carries_the_proof_of_origin(show):
    page, sent = show('<button data-hx-post="/move">Move</button>')
    with page.expect_request("**/move") as request:
        page.click("button")
    assert request.value.headers["x-csrftoken"] == "proof"


def test_chosen_photos_are_counted(show):
    page, _ = show('<input type="file" id="photos" multiple><output class="chosen" for="photos"></output>')
    photo = {"mimeType": "image/jpeg", "buffer": b"x" * 1_200_000}
    page.set_input_files("#photos", [{"name": "a.jpg", **photo}, {"name": "b.jpg", **photo}])
    assert page.text_content("output") == "2 photos chosen, 2.4 MB"


FOUND = '<main><section data-goes-on="what was found"><table><tbody>{}</tbody></table></section></main>'.format(
    "".join(f'<tr><td><a href="/t/{code}">{code}</a></td></tr>' for code in "ABC")
)
DONE = '<div id="messages"><form><button class="button" type="button">Undo</button></form></div>'
EARLIER = """sessionStorage["goes-on"] = '["/find/", "what was found"]'"""
AN_HOUR_LATER = """() => {
    const kept = JSON.parse(sessionStorage["goes-on"]);
    sessionStorage["goes-on"] = JSON.stringify({ ...kept, at: kept.at - 3600001 });
}"""


def goes_on(page) -> list[str]:
    return page.locator("a", has_text="Go on with").evaluate_all("all => all.map(one => one.textContent)")


def test_whoever_leaves_what_was_found_is_no_longer_led_back_to_it(show):
    """By the first page, with another list, with a piece that is not in it, and after an hour."""
    show(FOUND, "/find/")
    page, _ = show(DONE, "/t/A")
    assert goes_on(page) == ["Go on with what was found"]
    for left in ("/", "/t/D", "/where/"):
        show(FOUND, "/find/")
        show(FOUND.replace("what was found", "Crate 1") if left == "/where/" else "", left)
        page, _ = show(DONE, "/t/B")
        assert goes_on(page) == (["Go on with Crate 1"] if left == "/where/" else []), left
    show(FOUND, "/find/")
    page, _ = show("", "/t/C")
    page.evaluate(AN_HOUR_LATER)
    assert goes_on(show(DONE, "/t/C")[0]) == []


def test_what_an_earlier_version_left_in_an_open_page_stops_nothing(show):
    page, _ = show("", "/elsewhere/")
    page.evaluate(EARLIER)
    errors = []
    page.once("pageerror", lambda error: errors.append(str(error)))
    show(DONE, "/t/A")
    assert errors == goes_on(page) == []


def test_no_form_in_which_one_proves_who_one_is_is_kept_to_be_sent_later(show):
    proofs = ("", '<input name="password" type="password">', '<input name="pin" class="input-secret">')
    forms = (f'<form method="post" data-keep="Clean it"><input name="remark">{proof}</form>' for proof in proofs)
    page, _ = show("".join(forms))
    for script in ("kept-store", "kept-send", "drafts", "kept-forms"):
        page.add_script_tag(path=STATIC / "js" / f"{script}.js")
    assert page.evaluate("[...document.forms].map(cotter.isKept)") == [True, False, False]
