"""The marks of the page: icons, the chips for states, needs and badges, and how a day and a size are written.

Icons stand in the page itself, not behind an address: browsers differ in what a strict content policy lets `<use>`
fetch. A chip is the same for the same word, so each is rendered once and kept: a row of a long list pays for a lookup.
"""

from datetime import date, datetime
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from xml.etree import ElementTree

from django import template
from django.conf import settings
from django.template.loader import get_template
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import slugify
from django.utils.timezone import localdate

from inspections.domain.two_units import in_both
from parts.domain import consumables, plain

register = template.Library()
SVG = "{http://www.w3.org/2000/svg}"


@lru_cache(maxsize=1)
def drawings() -> dict[str, SafeString]:
    """Every symbol of templates/icons.svg as an element that can stand in a page."""
    sheet = ElementTree.parse(Path(settings.ROOT) / "templates" / "icons.svg")
    return {symbol.get("id"): as_element(symbol) for symbol in sheet.iter(f"{SVG}symbol")}


def as_element(symbol: ElementTree.Element) -> SafeString:
    """The symbol as an `<svg>` without a name of its own: the word beside it says what it means."""
    drawn = ElementTree.Element("svg", {"class": "icon", "aria-hidden": "true"})
    drawn.attrib.update((name, value) for name, value in symbol.items() if name != "id")
    for shape in symbol.iter():
        shape.tag, shape.tail = shape.tag.removeprefix(SVG), None
    drawn.extend(symbol)
    return mark_safe(ElementTree.tostring(drawn, encoding="unicode"))


@register.simple_tag
def icon(*words: str) -> SafeString:
    """{% icon "i-find" %} or {% icon "state" piece.state %}: one drawing; an unknown name is the template's mistake."""
    return drawings()[slugify(" ".join(str(word) for word in words))]


@lru_cache(maxsize=256)
def chip(component: str, word: str, large: bool) -> SafeString:
    return mark_safe(get_template(f"components/{component}.html").render({component: word, "large": large}).strip())


@register.simple_tag
def state(word: str, large: bool = False) -> SafeString:
    """{% state piece.state %}: what has become of a piece, by word and shape."""
    return chip("state", str(word), bool(large)) if word else SafeString()


@register.simple_tag
def need(word: str, large: bool = False) -> SafeString:
    """{% need row.need %}: what a place needs next, by word and shape."""
    return chip("need", str(word), bool(large)) if word else SafeString()


@register.simple_tag
def badge(word: str) -> SafeString:
    """{% badge "in doubt" %}: on trial, in doubt, safety-critical, pressure part, cracked, quarantined, overdue."""
    return chip("badge", str(word), False)


@register.filter
def day(when: date | None) -> str:
    """{{ step.promised|day }}: the day, as this workshop's clock has it. Nothing where there is none."""
    if not when:
        return ""
    return plain.day(localdate(when) if isinstance(when, datetime) else when)


@register.filter
def counted(number: int, unit: str) -> str:
    """{{ stock.in_stock|counted:stock.unit }}: a number of consumables."""
    return consumables.counted(number, unit)


@register.filter
def mm_in(mm: Fraction | None, unit: str) -> str:
    """{{ reading.value|mm_in:"in" }}: exact millimetres in the drawing's unit, and in brackets in the other one."""
    return "" if mm is None else in_both(mm, unit)
