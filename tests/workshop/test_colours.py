"""Contrast of every ink on every ground it is used on, in light and in dark.

The ratio is that of WCAG 2.2, "contrast ratio" and "relative luminance"; 7:1 is its success criterion 1.4.6 for text,
3:1 its 1.4.11 for the edges of controls.
"""

import re
from itertools import product
from pathlib import Path

import pytest

from tests.tables import for_each

BASE = (Path(__file__).resolve().parents[2] / "static" / "css" / "base.css").read_text("utf-8")


def colours(block: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z0-9-]+):\s*(#[0-9a-f]{6});", block))


LIGHT_BLOCK, DARK_BLOCK = BASE.split("@media (prefers-color-scheme: dark)")
LIGHT = colours(LIGHT_BLOCK)
DARK = LIGHT | colours(DARK_BLOCK)

TEXT = [
    *product(["ink", "ink-2", "blue", "red", "green", "amber"], ["paper", "card"]),
    *product(["ink", "ink-2"], ["blue-soft", "red-soft", "green-soft", "amber-soft"]),
    *((ink, f"{ink}-soft") for ink in ("blue", "red", "green", "amber")),
    ("blue", "red-soft"),
    ("on-blue", "blue"),
    ("paper", "ink"),
    ("card", "ink"),
    ("card", "red"),
    ("card", "blue"),
]
EDGES = [("rule-2", "paper"), ("rule-2", "card")]


def luminance(colour: str) -> float:
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_black_on_white_is_21_to_1():
    """The upper end of the scale, as WCAG 2.2 gives it."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@for_each("look", [LIGHT, DARK], ids=["light", "dark"])
@for_each(("ink", "ground"), TEXT)
def test_text_can_be_read_in_poor_light(look, ink, ground):
    assert contrast(look[ink], look[ground]) >= 7


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize(("edge", "ground"), EDGES)
def test_the_edge_of_a_field_can_be_seen(look, edge, ground):
    assert contrast(look[edge], look[ground]) >= 3


def test_dark_changes_every_colour():
    assert not {name for name in LIGHT if LIGHT[name] == DARK[name]}
