"""Elements of an SVG as text. Every value is escaped here and nowhere else."""

import re
from functools import lru_cache
from xml.sax.saxutils import escape, quoteattr

TO_QUOTE = re.compile(r'[&<>"\n\r\t]')
"""Few values have one of these, and to look for each in turn takes four times as long."""


def element(name: str, *children: str, **attributes: object) -> str:
    """An element. `class_` is class, a_b is a-b; an attribute that is None is left out."""
    written = "".join(
        f" {_name(key)}={_quoted(_text(value))}" for key, value in attributes.items() if value is not None
    )
    inside = "".join(children)
    return f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>"


def text(words: str, **attributes: object) -> str:
    return element("text", escape(_printable(words)), **attributes)


def title(words: str) -> str:
    return element("title", escape(_printable(words)))


@lru_cache
def _name(key: str) -> str:
    return key.rstrip("_").replace("_", "-")


def _quoted(value: str) -> str:
    return quoteattr(value) if TO_QUOTE.search(value) else f'"{value}"'


def _text(value: object) -> str:
    return f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else _printable(str(value))


def _printable(words: str) -> str:
    """Without control characters, which no XML may carry."""
    return words if words.isprintable() else "".join(letter for letter in words if letter.isprintable())
