"""Somebody whose browser runs no scripts: pages as they are served, links followed by their words, and forms sent as
they stand, by the button that is pressed.

What is hidden or folded away is out of reach. Of what a browser does by itself this leaves out that it refuses a form
for `required`, `min`, `max` or `pattern`, cuts words off at `maxlength`, and lays the page out.
"""

from urllib.parse import urldefrag, urljoin

from django.test import Client

from tests.as_shown import is_shown, read, values, words
from tests.demo_copy import PASSWORD


class PlainPerson:
    def __init__(self, client=None):
        self.client, self.here = client or Client(enforce_csrf_checks=True), "/"

    def sign_in(self, username: str) -> None:
        self.open("/sign-in/")
        self.fill(username=username, password=PASSWORD)
        assert self.press("Sign in") == 302, self.text()

    def open(self, address: str) -> int:
        """Go there; gives the status of the answer."""
        self.here = urldefrag(urljoin(self.here, address)).url
        return self._comes_to(self.client.get(self.here, follow=True))

    def follow(self, link: str) -> None:
        address = self._named("a", link)[0].get("href")
        assert address.startswith("#") or self.open(address) == 200, f"{address}: {self.text()}"

    def reach(self, tag: str, link: str, deed: str) -> None:
        """The page of this deed, by the link on that of the piece."""
        self.open(f"/t/{tag}")
        self.follow(link)
        assert self.here.startswith(f"/t/{tag}/{deed}"), f"{link} leads to {self.here}"

    def press(self, name: str) -> int:
        """Send the form of this button, and go where its answer leads; gives the status of the answer."""
        button = self._named("button", name)[-1]  # a long form has it at its head too
        form = self._form_of(button)
        assert button.get("type") == "submit", f"{name} sends nothing"
        assert "disabled" not in button.attrib, f"{name} sends nothing now"
        assert all(self._form_of(field) is form for field in self.entered), f"{name} does not send all of it"
        assert not self.files or form.get("enctype") == "multipart/form-data", f"{name} sends no files"
        sent = {button.get("name"): [button.get("value", "")]} if button.get("name") else {}
        for field, value in values(form):
            sent.setdefault(field, []).append(value)
        self.here = urljoin(self.here, urldefrag(button.get("formaction") or form.get("action") or "").url)
        send = self.client.post if form.method == "POST" else self.client.get
        return self._comes_to(send(self.here, sent | self.files, follow=True), first=True)

    def ask(self, button: str) -> None:
        """Press what scripts ask for while somebody types."""
        assert self.press(button) < 400, self.text()

    def fill(self, **entered: str) -> None:
        """Each field by its name; what is chosen from a list by its words."""
        for name, value in entered.items():
            field = self._field(name.replace("__", "-"))
            if field.tag == "select":
                options = {words(one): one for one in field.iter("option") if "disabled" not in one.attrib}
                value = options[named_by(value, list(options))].get("value", value)
            field.value = value

    def choose(self, name: str, value: str = "") -> None:
        """One of several, or a tick in a box."""
        field = self._field(name, value)
        for other in self._form_of(field).inputs[name] if field.type == "radio" else ():
            other.checked = False
        field.checked = True

    def upload(self, name: str, file) -> None:
        assert self._field(name).type == "file"
        self.files[name] = file

    def unfold(self, summary: str) -> None:
        (found,) = (one for one in self._shown("summary") if summary in words(one))
        found.getparent().set("open", "")

    def sees(self, text: str, at: str = "main") -> None:
        """In the first of these."""
        found = [words(one) for one in self._shown(at)]
        assert found, f"no {at} on {self.here}"
        assert text in found[0], f"{text!r} is not in {found[0]!r}"

    def offers(self, link: str) -> bool:
        return any(words(one) == link for one in self._shown("a"))

    def text(self) -> str:
        return f"{self.here}: {words(self.page.find('body'))}"

    def _comes_to(self, answer, first: bool = False) -> int:
        """A page that nobody has entered anything into; gives the status of it, or of the first answer on the way."""
        for address, _ in answer.redirect_chain:
            self.here = urldefrag(urljoin(self.here, address)).url
        self.page, self.entered, self.files = read(answer.content), [], {}
        assert answer.status_code == 200 or not answer.redirect_chain, f"{answer.status_code} {self.text()}"
        return answer.redirect_chain[0][1] if first and answer.redirect_chain else answer.status_code

    def _field(self, name: str, value: str = ""):
        found = [one for one in self._shown("input:not([type=hidden]), select, textarea") if one.name == name]
        if value:
            found = [one for one in found if one.checkable and one.get("value", "on") == value]
        assert len(found) == 1, f"{len(found)} fields {name} {value} on {self.text()}"
        assert not {"disabled", "readonly"} & set(found[0].attrib), f"{name} is not to be filled in"
        self.entered += found
        return found[0]

    def _form_of(self, control):
        """None: it stands in no form."""
        form = control.get("form")
        return self.page.get_element_by_id(form) if form else next(control.iterancestors("form"), None)

    def _named(self, tag: str, name: str) -> list:
        found = [one for one in self._shown(tag) if (one.get("aria-label") or words(one)) == name]
        assert found, f"no {tag} {name!r} on {self.text()}"
        return found

    def _shown(self, selector: str) -> list:
        return [one for one in self.page.cssselect(selector) if is_shown(one)]


def named_by(words: str, options: list[str]) -> str:
    """The option of these words, or else the only one that has them in it."""
    found = [words] if words in options else [option for option in options if words in option]
    assert len(found) == 1, f"{words!r} is not one of {options}"
    return found[0]
