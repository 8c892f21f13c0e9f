"""A browser in the hand of somebody who walks a whole way, with the verbs of `tests/without_scripts.py`."""

from playwright.sync_api import expect

from tests.browser.watching import Person
from tests.without_scripts import named_by


class Walker:
    """Every page that is opened, or that a link leads to, fits its window."""

    def __init__(self, person: Person):
        self.person, self.page, self.press = person, person.page, person.press

    @property
    def here(self) -> str:
        return self.page.url.removeprefix(self.person.address)

    def open(self, address: str) -> int:
        status = self.person.open(address)
        self.person.fits()
        return status

    def follow(self, words: str) -> None:
        self.page.get_by_role("link", name=words, exact=True).first.click()
        self.page.wait_for_load_state()
        self.person.fits()

    def reach(self, tag: str, link: str, deed: str) -> None:
        """At once: that the page of a piece has such a link needs no browser."""
        self.open(f"/t/{tag}/{deed}")

    def ask(self, words: str) -> None:
        """Scripts ask while somebody types."""

    def fill(self, **entered: str) -> None:
        for name, value in entered.items():
            field = self.page.locator(f"[name='{name.replace('__', '-')}']")
            if field.evaluate("field => field.tagName") == "SELECT":
                options = field.locator("option").all_inner_texts()
                field.select_option(label=named_by(value, options))
            else:
                field.fill(value)

    def choose(self, name: str, value: str = "") -> None:
        self.page.locator(f"input[name='{name}']" + (f"[value='{value}']" if value else "")).check()

    def unfold(self, words: str) -> None:
        self.page.locator("summary", has_text=words).click()

    def sees(self, text: str, at: str = "main") -> None:
        expect(self.page.locator(at).first).to_contain_text(text)

    def text(self) -> str:
        return self.page.locator("main").inner_text()
