"""A browser in somebody's hands, which notes everything that the console complains of."""

from contextlib import contextmanager

from playwright.sync_api import Browser, Page, expect

from tests.demo_copy import PASSWORD

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK = {"viewport": {"width": 1280, "height": 900}}


class Person:
    """One person's browser window at one address; `complaints` are what no page may give rise to."""

    def __init__(self, page: Page, address: str):
        self.page, self.address, self.complaints = page, address, []
        page.on("console", self._console)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def _console(self, message) -> None:
        # A page that refuses with 4xx, as it should, is noted by the browser as a failure to load.
        refused = message.text.startswith("Failed to load resource") and message.location["url"] == self.page.url
        if message.type in ("error", "warning") and not refused:
            self.complaints.append(f"{message.text} ({message.location['url']} on {self.page.url})")

    def open(self, path: str) -> int:
        """Go there; gives the status of the answer."""
        return self.page.goto(self.address + path).status

    def sign_in(self, username: str) -> None:
        """On the form that is shown, wherever it leads afterwards."""
        self.page.get_by_label("Sign-in name").fill(username)
        self.page.get_by_label("Password", exact=True).fill(PASSWORD)
        self.page.get_by_role("button", name="Sign in", exact=True).click()

    def press(self, name: str) -> int:
        """Send the form by this button; gives the status of the answer."""
        with self.page.expect_navigation():
            with self.page.expect_response(lambda answer: answer.request.method == "POST") as sent:
                self.page.get_by_role("button", name=name, exact=True).click()
        return sent.value.status

    def choose(self, field: str, value: str) -> None:
        self.page.locator(f'input[name="{field}"][value="{value}"]').check()

    def sees(self, text: str) -> None:
        expect(self.page.locator("main")).to_contain_text(text)

    def fits(self) -> None:
        """Nothing sticks out sideways."""
        widths = self.page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
        assert widths[0] <= widths[1], f"{self.page.url} is {widths[0]} wide in a window of {widths[1]}"


@contextmanager
def window(browser: Browser, address: str, username: str = "", **look):
    """A window of one's own, signed in if a name is given; at the end nothing may have complained."""
    context = browser.new_context(locale="en-GB", **look)
    context.set_default_timeout(10_000)
    try:
        person = Person(context.new_page(), address)
        if username:
            person.open("/sign-in/")
            person.sign_in(username)
        yield person
        assert not person.complaints
    finally:
        context.close()
