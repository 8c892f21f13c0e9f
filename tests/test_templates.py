"""Every template compiles, and every static file that one names is there."""

import re
from pathlib import Path

from django.contrib.staticfiles import finders
from django.template.loader import get_template

from tests.tables import for_each

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"
NAMES = sorted(path.relative_to(TEMPLATES).as_posix() for path in TEMPLATES.rglob("*.html"))


@for_each("name", NAMES)
def test_it_compiles(name):
    get_template(name)


@for_each("name", NAMES)
def test_the_static_files_it_names_are_there(name):
    named = re.findall(r"""{%\s*static\s+['"]([^'"]+)['"]""", (TEMPLATES / name).read_text("utf-8"))
    assert [file for file in named if not finders.find(file)] == []


@for_each("name", NAMES)
def test_nothing_in_it_needs_inline_code(name):
    """The content security policy lets no style attribute, no handler attribute and no script in the page run."""
    text = (TEMPLATES / name).read_text("utf-8")
    assert re.findall(r"""\s(?:style|on[a-z]+)\s*=\s*["']""", text) == []
    assert re.findall(r"<style\b|<script(?![^>]*\bsrc=)[^>]*>", text) == []
