"""What a page shows: its text, and its form as a browser would send it back unchanged."""

from html.parser import HTMLParser


class _Form(HTMLParser):
    """The fields of the last form with any that is sent by post to this address (none: to that of the page), in the
    order of the page."""

    def __init__(self, action):
        super().__init__(convert_charrefs=True)
        self.action = action
        self.fields, self.forms, self.inside, self.area, self.select = [], [], False, None, None

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        if tag == "form":
            self.inside = attrs.get("method") == "post" and attrs.get("action", "") == self.action
            self.fields = []
        elif not self.inside or "disabled" in attrs:
            return
        elif tag == "input":
            self._input(attrs)
        elif tag == "textarea":
            self.area = [attrs["name"], ""]
        elif tag == "select":
            self.select = [attrs["name"], []]
        elif tag == "option" and self.select:
            self.select[1].append((attrs.get("value", ""), "selected" in attrs))

    def _input(self, attrs):
        kind = attrs.get("type", "text")
        if kind in ("checkbox", "radio") and "checked" in attrs:
            self.fields.append((attrs["name"], attrs.get("value", "on")))
        elif kind not in ("checkbox", "radio", "file", "submit") and "name" in attrs:
            self.fields.append((attrs["name"], attrs.get("value", "")))

    def handle_data(self, data):
        if self.area:
            self.area[1] += data

    def handle_endtag(self, tag):
        if tag == "form":
            self.forms += [self.fields] * (self.inside and len(self.fields) > 1)  # more than the token
            self.inside = False
        elif tag == "textarea" and self.area:
            self.fields.append((self.area[0], self.area[1].removeprefix("\n")))
            self.area = None
        elif tag == "select" and self.select:
            name, options = self.select
            chosen = [value for value, there in options if there] or [value for value, _ in options[:1]]
            self.fields += [(name, value) for value in chosen]
            self.select = None


def sent_back(html: str, action: str = "") -> dict[str, list[str]]:
    """Name to values; none if the page has no such form."""
    form = _Form(action)
    form.feed(html)
    found: dict[str, list[str]] = {}
    for name, value in form.forms[-1] if form.forms else ():
        found.setdefault(name, []).append(value)
    found.pop("csrfmiddlewaretoken", None)
    return found


def text_of(response) -> str:
    """The page on one line, so that a sentence is found wherever its template breaks it."""
    return " ".join(response.content.decode().split())
