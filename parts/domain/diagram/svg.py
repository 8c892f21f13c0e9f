"""Elements of an SVG as text. Every value is escaped here and nowhere else."""

from xml.sax.saxutils import escape, quoteattr


def element(name: str, *children: str, **attributes: object) -> str:
    """An element. `class_` is class, a_b is a-b; an attribute that is None is left out."""
    written = "".join(
        f" {key.rstrip('_').replace('_', '-')}={quoteattr(_text(value))}"
        for key, value in attributes.items()
        if value is not None
    )
    inside = "".join(children)
    return f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>"


def text(words: str, **attributes: object) -> str:
    return element("text", escape(_printable(words)), **attributes)


def title(words: str) -> str:
    return element("title", escape(_printable(words)))


def _text(value: object) -> str:
    return f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else _printable(str(value))


def _printable(words: str) -> str:
    """Without control characters, which no XML may carry."""
    return words if words.isprintable() else "".join(letter for letter in words if letter.isprintable())
