"""The key to the drawing: a swatch and a word for each way a part can look."""

from .paint import DASHES, WEIGHTS, Ids
from .states import LineStyle
from .svg import element, text

HEIGHT = 26
SWATCH_WIDTH, SWATCH_HEIGHT = 22.0, 13.0


def legend(x: float, y: float, ids: Ids) -> str:
    entries = [
        ("missing", LineStyle.MISSING, "none"),
        ("off, in hand", LineStyle.OFF, "none"),
        ("in place", LineStyle.IN_PLACE, "none"),
        ("ready", LineStyle.PARTLY, f"url(#{ids.hatch})"),
        ("refitted", LineStyle.COMPLETE, "currentColor"),
    ]
    made = []
    for words, line, fill in entries:
        made.append(
            element("rect", x=x, y=y, width=SWATCH_WIDTH, height=SWATCH_HEIGHT, fill=fill, stroke_width=WEIGHTS[line],
                    stroke_dasharray=DASHES.get(line))
        )  # fmt: skip
        made.append(text(words, x=x + SWATCH_WIDTH + 6, y=y + 11, fill="currentColor", stroke="none"))
        x += SWATCH_WIDTH + 6 + len(words) * 7.4 + 22
    made.append(text("? in doubt", x=x, y=y + 11, fill="currentColor", stroke="none", font_weight="bold"))
    return element("g", *made, class_="key", font_size="14", aria_hidden="true")
