"""Every form that is sent keeps what is entered on the phone, without asking: it stands on a page with the scripts, and
only those named here keep nothing."""

import re
from pathlib import Path

TEMPLATES = Path(__file__).resolve().parents[3] / "templates"


def forms_of(name: str) -> list[str]:
    """The opening tags of its forms that post; what Django fills in may have a > in it."""
    text = re.sub(r"{[%{][^{}]*[%}]}", lambda tag: tag[0].replace(">", "›"), (TEMPLATES / name).read_text("utf-8"))
    return [tag for tag in re.findall(r"<form\b[^>]*>", text) if 'method="post"' in tag]


NAMES = [str(path.relative_to(TEMPLATES)) for path in sorted(TEMPLATES.rglob("*.html"))]
FORMS = [(name, tag) for name in NAMES for tag in forms_of(name)]
ANSWERED_WITH_A_FILE = {"parts/labels/labels.html", "workshop/accounts/invited.html", "workshop/accounts/person.html"}
GOES_WITH_A_FILE = {"parts/taking_over/matching.html"}
"""Shown once in answer to a list that was sent: a draft would find no page to come back to."""


def base_of(name: str) -> str:
    """The page that a template is of in the end."""
    while found := re.search(r'{% extends "(.+?)" %}', (TEMPLATES / name).read_text("utf-8")):
        name = found[1]
    return name


def test_a_page_with_a_form_has_the_scripts_that_keep_it():
    assert len(FORMS) > 100
    scripts = re.findall(r"js/([a-z-]+)\.js", (TEMPLATES / "base.html").read_text("utf-8"))
    assert {"kept-store", "kept-send", "drafts", "kept-forms", "press"} <= set(scripts)
    whole = {name for name, _ in FORMS if "<html" in (TEMPLATES / name).read_text("utf-8")}
    assert {name for name in whole if base_of(name) != "base.html"} == set()


def test_only_what_answers_with_a_file_or_goes_with_one_just_sent_is_no_draft():
    none = {name for name, tag in FORMS if "data-again" in tag or "data-no-draft" in tag}
    assert none == ANSWERED_WITH_A_FILE | GOES_WITH_A_FILE


def test_what_is_signed_is_never_sent_by_itself():
    """A form says either; that of an action on a piece says which by what the catalogue has."""
    assert [
        name
        for name, tag in FORMS
        if tag.count("data-sign") and tag.count("data-keep") and "{% if signed %}" not in tag
    ] == []
    assert "data-sign{% else %} data-keep=" in dict(FORMS)["parts/pieces/act.html"]
