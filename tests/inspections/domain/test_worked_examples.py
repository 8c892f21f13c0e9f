"""The worked examples in the docstrings are run, so that none of them can be wrong."""

import doctest

import pytest

from inspections.domain import iso_fits, length_text, lengths


@pytest.mark.parametrize("module", [iso_fits, length_text, lengths], ids=lambda module: module.__name__)
def test_the_examples_hold(module):
    found = doctest.testmod(module)
    assert found.attempted
    assert not found.failed
