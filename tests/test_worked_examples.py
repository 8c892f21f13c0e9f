"""The worked examples in docstrings are run, so that none of them can be wrong."""

import doctest
from importlib import import_module

import pytest

from tests.running import ROOT

APPS = ("core", "parts", "inspections", "workshop", "demo_fixtures")
WITH_EXAMPLES = sorted(
    ".".join(file.relative_to(ROOT).with_suffix("").parts)
    for app in APPS
    for file in (ROOT / app).rglob("*.py")
    if ">>> " in file.read_text("utf-8")
)


@pytest.mark.parametrize("module", WITH_EXAMPLES)
def test_the_examples_hold(module):
    tried = doctest.testmod(import_module(module))
    assert tried.attempted
    assert not tried.failed
