"""The marks of every page: icons, what the chips of rooms are made of, and how a day is written.

Icons stand in the page itself, not behind an address: browsers differ in what a strict content policy lets `<use>`
fetch. A chip is the same for the same word, so each is rendered once and kept: a row of a long list pays for a lookup.
"""

import re
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from xml.etree import ElementTree

from django import template
from django.conf import settings
from django.template.loader import get_template
from django.utils.html import escape, format_html
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import slugify
from django.utils.timezone import localdate

from parts.domain import plain

from ..web import two_at_once

register = template.Library()
SVG = "{http://www.w3.org/2000/svg}"


@lru_cache(maxsize=1)
def drawings() -> dict[str, SafeString]:
    """Every symbol of templates/icons.svg as an element that can stand in a page."""
    sheet = ElementTree.parse(Path(settings.ROOT) / "templates" / "icons.svg")
    return {symbol.attrib["id"]: as_element(symbol) for symbol in sheet.iter(f"{SVG}symbol")}


def as_element(symbol: ElementTree.Element) -> SafeString:
    """The symbol as an `<svg>` without a name of its own: the word beside it says what it means."""
    drawn = ElementTree.Element("svg", {"class": "icon", "aria-hidden": "true"})
    drawn.attrib.update((name, value) for name, value in symbol.items() if name != "id")
    for shape in symbol.iter():
        shape.tag, shape.tail = shape.tag.removeprefix(SVG), None
    drawn.extend(symbol)
    return mark_safe(ElementTree.tostring(drawn, encoding="unicode"))


@register.simple_tag
@lru_cache(maxsize=512)
def icon(*words: str) -> SafeString:
    """{% icon "i-find" %} or {% icon "state" piece.state %}: one drawing; an unknown name is the template's mistake."""
    return drawings()[slugify(" ".join(str(word) for word in words))]


@lru_cache(maxsize=256)
def chip(component: str, word: str, large: bool) -> SafeString:
    return mark_safe(get_template(f"components/{component}.html").render({component: word, "large": large}).strip())


@register.filter
def day(when: date | None) -> str:
    """{{ step.promised|day }}: the day, as this workshop's clock has it. Nothing where there is none."""
    if not when:
        return ""
    return plain.day(localdate(when) if isinstance(when, datetime) else when)


@register.filter
def was(form) -> str:
    """What the form showed when its page was opened, for whoever saves second."""
    return two_at_once.was(form)


@register.filter
def promised(due: date | None) -> str:
    """{{ piece.promised_back|promised }}: the day, and how long it is overdue if it is."""
    return f"{plain.day(due)}{plain.overdue(due, localdate())}" if due else ""


TELEPHONE = re.compile(r"(?<!\d)(?:\+\d|\(?0)[\d ()/-]{5,}\d")
"""With its country or its area, so that no year and no order number is taken for one."""


@register.filter
def to_dial(words: str) -> SafeString:
    """{{ firm.contact|to_dial }}: a telephone number in it can be tapped. Browsers are told to look for none themselves
    (base.html), since they would take the code of a tag for one."""
    made, end = [], 0
    for found in TELEPHONE.finditer(words):
        number = re.sub(r"\(0\)|[^\d+]", "", found[0])
        made += [
            escape(words[end : found.start()]),
            format_html('<a href="tel:{}">{}</a>', number, found[0].replace(" ", "\u00a0")),
        ]
        end = found.end()
    return mark_safe("".join([*made, escape(words[end:])]))
