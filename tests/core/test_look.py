"""Icons, chips and the shared parts of pages."""

import re

import pytest
from django.template import Context, Template
from django.template.loader import render_to_string

from core.templatetags.look import drawings, icon, to_dial
from parts.domain.words import Need, State
from parts.pieces.template_tags import badge, state
from parts.readiness.template_tags import need

BADGES = ["on trial", "in doubt", "safety-critical", "pressure part", "cracked", "quarantined", "overdue"]


def drawing_in(chip: str) -> str:
    return re.search(r"<svg.*?</svg>", chip).group()


@pytest.mark.parametrize(("tag", "words"), [(state, list(State)), (need, list(Need)), (badge, BADGES)])
def test_every_word_of_a_kind_has_a_shape_of_its_own(tag, words):
    chips = [tag(word) for word in words]
    assert all(str(word) in re.sub(r"<[^>]*>", "", chip) for word, chip in zip(words, chips, strict=True))
    assert len({drawing_in(chip) for chip in chips}) == len(words)


def test_no_state_draws_nothing():
    assert state("") == "" == need(None)


def test_a_word_that_is_not_on_the_list_is_a_mistake():
    with pytest.raises(KeyError):
        state("polished")


def test_an_icon_is_hidden_from_those_who_hear_the_word():
    assert all('aria-hidden="true"' in drawing for drawing in drawings().values())
    assert Template('{% icon "state" word %}').render(Context({"word": State.IN_PLACE})) == icon("state-in-place")


def part(name: str, **context) -> str:
    return render_to_string(f"components/{name}.html", context)


def test_the_plate_says_side_axle_and_end():
    words = re.sub(r"<[^>]*>", "", part("handing", side="RH", axle="leading", inside="", end="front"))
    assert words.split() == ["RH", "leading", "front"]


def test_a_greyed_button_names_its_reasons():
    refusals = [{"sentence": "It is not accepted.", "cure": "Accept it first."}]
    html = part("action", label="Refit", href="/refit/", refusals=refusals, key="refit")
    assert 'aria-disabled="true" aria-describedby="why-refit"' in html
    assert "It is not accepted." in html
    assert "Accept it first." in html
    assert "/refit/" not in html


def test_an_allowed_action_is_a_link():
    assert 'href="/refit/"' in part("action", label="Refit", href="/refit/", refusals=[], key="refit")


@pytest.mark.parametrize(
    ("level", "word"), [("success", "Done."), ("warning", "Take care."), ("error", "Not done."), ("info", "Note.")]
)
def test_a_notice_begins_with_its_word(level, word):
    assert word in part("notice", kind=level, text="Moved.")


def test_what_people_wrote_is_escaped():
    assert "<b>" not in part("notice", kind="info", text="<b>")


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        ("01632 960 114, Mrs Quayle", '<a href="tel:01632960114">01632 960 114</a>, Mrs Quayle'),
        ("+49 (0)8123 45-0 & co", '<a href="tel:+498123450">+49 (0)8123 45-0</a> &amp; co'),
        ("(01632) 960 114", '<a href="tel:01632960114">(01632) 960 114</a>'),
        ("Shed 14, <b>order 2019-2023</b>", "Shed 14, &lt;b&gt;order 2019-2023&lt;/b&gt;"),
        ("", ""),
    ],
)
def test_a_telephone_number_can_be_tapped_and_nothing_else_is_marked_up(words, shown):
    assert to_dial(words).replace("\u00a0", " ") == shown


def test_a_telephone_number_stays_on_one_line():
    assert "01632\u00a0960\u00a0114" in to_dial("Ring 01632 960 114")
