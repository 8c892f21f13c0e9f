"""What somebody without scripts can do with a page, and what is sent of its form. The latter is the HTML Standard's,
4.10.22.4 "Constructing the entry list" (from memory), but for files and the button that is pressed."""

from types import SimpleNamespace

import pytest

from tests.tables import for_each
from tests.without_scripts import PlainPerson

PAGE = """<!doctype html><title>Sheet</title><body><main>
<a href="/on">Go on</a> <a href="/out" hidden>Go out</a>
<form method="post" action="/sheet"><button type="submit" form="sheet">Save</button></form>
<form method="post" id="sheet" action="/sheet">
  <input type="hidden" name="token" value="t1"><input name="empty"><input name="size" value="12.5">
  <input name="locked" value="no" disabled><input name="kept" value="as it is" readonly><input value="no name">
  <input type="checkbox" name="tick" checked><input type="checkbox" name="left" value="x">
  <input type="radio" name="how" value=""><input type="radio" name="how" value="oil" checked>
  <input type="radio" name="how" value="wax">
  <select name="who"><option value="1">Ann Onym<option value="2" disabled>Bea Onym<option value="3">Cy Onym</select>
  <textarea name="notes">
one
two</textarea><template><input name="made by scripts"></template>
  <details><summary>More</summary><input name="more"></details><input type="file" name="paper">
  <p id="told">Read <b>this</b><span hidden> not</span>.</p>
  <button type="submit" name="do" value="drop">Drop it</button><button type="button">By scripts</button>
  <button type="submit" disabled>Not now</button>
</form>
<form action="/find"><input name="q"><button type="submit">Find</button></form></main>"""
SENT = {
    "token": ["t1"], "empty": [""], "size": ["12.5"], "kept": ["as it is"], "tick": ["on"], "how": ["oil"],
    "who": ["1"], "notes": ["one\ntwo"], "more": [""],
}  # fmt: skip


class OnePage:
    """What answers with it to everything."""

    def get(self, address, sent=None, follow=True):
        self.asked = (address, sent)
        return SimpleNamespace(content=PAGE.encode(), status_code=200, redirect_chain=[])

    post = get


@pytest.fixture
def person():
    person = PlainPerson(OnePage())
    person.open("/")
    return person


def test_a_form_is_sent_as_it_stands(person):
    person.press("Save")
    assert person.client.asked == ("/sheet", SENT)


def test_with_what_was_entered_and_the_button_that_was_pressed(person):
    person.unfold("More")
    person.fill(empty="a", who="Cy", more="b")
    person.choose("how", "wax")
    person.choose("left")
    person.press("Drop it")
    entered = {"empty": ["a"], "who": ["3"], "more": ["b"], "how": ["wax"], "left": ["x"], "do": ["drop"]}
    assert person.client.asked == ("/sheet", SENT | entered)


def test_links_lead_on_and_what_is_shown_is_seen(person):
    person.sees("Read this.", at="#told")
    person.follow("Go on")
    assert (person.here, person.client.asked) == ("/on", ("/on", None))


CANNOT = {
    "a link that is not there": lambda person: person.follow("Go"),
    "a hidden link": lambda person: person.follow("Go out"),
    "a field that is not there": lambda person: person.fill(weight="1"),
    "a hidden field": lambda person: person.fill(token="1"),
    "a disabled field": lambda person: person.fill(locked="yes"),
    "a field to read only": lambda person: person.fill(kept="yes"),
    "a folded field": lambda person: person.fill(more="1"),
    "one that scripts make": lambda person: person.fill(**{"made by scripts": "1"}),
    "an option that is not there": lambda person: person.fill(who="Dot Onym"),
    "an option of several": lambda person: person.fill(who="Onym"),
    "a disabled option": lambda person: person.fill(who="Bea Onym"),
    "a value that is not there": lambda person: person.choose("how", "grease"),
    "a button that is not there": lambda person: person.press("Sav"),
    "a button of scripts": lambda person: person.press("By scripts"),
    "a disabled button": lambda person: person.press("Not now"),
    "the button of another form": lambda person: (person.fill(q="plate"), person.press("Save")),
    "words that are hidden": lambda person: person.sees("not", at="#told"),
    "what is not there": lambda person: person.sees("", at="#errors"),
}


@for_each(("what", "does"), list(CANNOT.items()))
def test_nobody_can_do(what, does):
    person = PlainPerson(OnePage())
    person.open("/")
    with pytest.raises(AssertionError):
        does(person)
