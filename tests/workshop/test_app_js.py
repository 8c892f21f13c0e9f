"""The small script on every page, in a real browser against pages made up here."""

from pathlib import Path

import pytest

pytestmark = pytest.mark.needs_chromium
STATIC = Path(__file__).resolve().parents[2] / "static"


@pytest.fixture(scope="module")
def window(browser):
    """Its page, what it shows at its start, and the requests that were not for that."""
    page, shown, sent = browser.new_page(), [], []

    def answer(route):
        if route.request.url.endswith("/start"):
            return route.fulfill(content_type="text/html", body=shown[-1])
        sent.append(route.request)
        return route.fulfill(status=204)

    page.route("**/*", answer)
    yield page, shown, sent
    page.close()


@pytest.fixture
def show(window):
    """Show a page with this body; gives the page, and the list of requests that were not for a page itself."""
    page, shown, sent = window
    scripts = "".join(f"<script>{(STATIC / one).read_text()}</script>" for one in ("vendor/htmx.min.js", "js/app.js"))

    def opened(body):
        shown.append(f'<!doctype html><meta name="csrf-token" content="proof">{body}{scripts}')
        page.goto("http://works.test/start")
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
