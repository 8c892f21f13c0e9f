"""Events in words, as a history tells them."""

import pytest

from core.domain.catalogue import CATALOGUE
from parts.domain.event_text import is_signed, tell
from tests.tables import for_each


def test_every_word_of_the_log_is_told_in_plain_words():
    for word in CATALOGUE.event_words():
        assert tell(word, {})[-1] in ".:?", word


def test_an_unknown_word_is_refused():
    with pytest.raises(KeyError, match="weigh"):
        tell("weigh", {})


@for_each(
    ("told", "sentence"),
    [
        (tell("clean", {"method": "hot wash"}, before="stripped", after="cleaned"), "Cleaned (hot wash)."),
        (tell("strip", {}, after="stripped"), "Came off, and entered the register."),
        (tell("strip", {}, before="in place", after="stripped"), "Stripped."),
        (tell("send back", {}, after="cleaned", remark="dropped"), "Sent back, to cleaned. Dropped."),
        (tell("move", {}, went="from Rack A to Crate 4"), "Moved from Rack A to Crate 4."),
        (tell("withdraw", {"destination": "scrapped"}, remark="worn out"), "Withdrawn. Scrapped. Worn out."),
        (tell("split lot", {"split_off": 5}), "5 split off, with a tag of their own."),
        (tell("describe", {"marks": ["", "7"], "side": ["", "LH"]}), "Written down: marks now 7, its own side now LH."),
        (
            tell("finish repair", {"work": "x", "who": "A. Fernside", "procedure": "WP 3", "welder": "B"}),
            "Repair finished. Work by A. Fernside. Weld procedure WP 3, welder B.",
        ),
        (
            tell("refit", {"override": "drawn so", "passed_over": ["It is RH, its place is LH."]}),
            "Refitted. Passed over, for this reason: Drawn so. It is RH, its place is LH.",
        ),
    ],
)  # fmt: skip
def test_an_event_reads_as_a_sentence(told, sentence):
    assert told == sentence


def test_what_stands_for_a_signature_is_marked():
    assert [is_signed(action) for action in ("accept", "sign examination", "clean", "move")] == [
        True,
        True,
        False,
        False,
    ]
