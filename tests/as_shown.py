"""What a page shows: its text, and its form as a browser would send it back unchanged."""

from collections.abc import Iterator

from lxml import etree, html

PARSER = html.HTMLParser(encoding="utf-8", remove_comments=True)


def read(page: bytes) -> html.HtmlElement:
    """The page of a browser that runs no scripts."""
    found = html.document_fromstring(page, parser=PARSER)
    etree.strip_elements(found, "script", "style", "template", with_tail=False)
    return found


def values(form: html.FormElement) -> Iterator[tuple[str, str]]:
    """What is sent of a form as it stands, in the order of the page; its files are not."""
    for field in form.inputs:
        kind = field.type if field.tag == "input" else ""
        if not field.name or "disabled" in field.attrib or kind in ("submit", "image", "reset", "button", "file"):
            continue
        if field.tag == "textarea":
            yield field.name, field.value.removeprefix("\n")
        elif field.tag == "select":
            chosen = field.value if field.multiple else [field.value]
            yield from ((field.name, one) for one in chosen if one is not None)
        elif kind not in ("checkbox", "radio"):
            yield field.name, field.get("value", "")
        elif field.checked:
            yield field.name, field.get("value", "on")


def sent_back(page: str, action: str = "") -> dict[str, list[str]]:
    """Name to values, of the last form that is sent by post to this address (none: to that of the page) and has more
    than a token; nothing if the page has no such form."""
    last: dict[str, list[str]] = {}
    for form in read(page.encode()).forms:
        if form.method == "POST" and form.get("action", "") == action:
            found: dict[str, list[str]] = {}
            for name, value in values(form):
                found.setdefault(name, []).append(value)
            found.pop("csrfmiddlewaretoken", None)
            last = found or last
    return last


def words(one: html.HtmlElement) -> str:
    """What somebody reads in it."""
    return " ".join("".join(_texts(one)).split())


def _texts(one) -> Iterator[str]:
    yield one.text or ""
    for child in one:
        if not _hides(child):
            yield from _texts(child)
        yield child.tail or ""


def is_shown(one: html.HtmlElement) -> bool:
    return not any(map(_hides, (one, *one.iterancestors())))


def _hides(one) -> bool:
    """It is hidden, or inside of what is folded."""
    above = one.getparent()
    folded = above is not None and above.tag == "details" and "open" not in above.attrib and one.tag != "summary"
    return folded or "hidden" in one.attrib or one.get("aria-hidden") == "true"


def text_of(response) -> str:
    """The page on one line, so that a sentence is found wherever its template breaks it."""
    return " ".join(response.content.decode().split())
