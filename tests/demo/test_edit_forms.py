"""Every form saves what it shows: opened and sent back unchanged it is taken, and nothing of the row is another. And
whoever saves second sees both values, and chooses."""

import html
import re

import pytest
from django.urls import get_resolver, reverse

from tests.as_shown import sent_back
from tests.demo_copy import LOCOMOTIVE, PASSWORD
from tests.visitor import Visitor

MOST = 5
"""Rows of one kind that are looked at, no two with the same fields filled in, spread evenly over all such."""

ROWS = {
    "edit_boiler": "SELECT id FROM inspections_boiler",
    "edit_boiler_part": "SELECT boiler_id, id FROM inspections_boilerpart",
    "edit_consumable": "SELECT id FROM parts_consumable",
    "edit_drawing": "SELECT id FROM parts_drawing",
    "edit_firm": "SELECT id FROM parts_firm",
    "edit_hold": "SELECT id FROM parts_holdpoint WHERE released_on IS NULL AND stopped_by_id IS NULL",
    "edit_instrument": "SELECT id FROM inspections_instrument",
    "edit_location": "SELECT id FROM parts_location WHERE locomotive_id IS NULL AND NOT retired",
    "edit_pattern": "SELECT id FROM parts_pattern",
    "edit_position": "SELECT id FROM parts_position WHERE NOT retired",
    "edit_repair": "SELECT id FROM parts_repair WHERE ended = ''",
    "edit_scheme_row": "SELECT boiler_id, id FROM inspections_schemerow",
    "edit_size": "SELECT id FROM inspections_dimension WHERE NOT retired",
    "edit_step": "SELECT id FROM parts_renewalstep WHERE ended = ''",
    "edit_subassembly": "SELECT code FROM parts_subassembly WHERE NOT retired",
    "edit_route": "",  # most are not stored but supplied, so what the forms show is compared
}
TABLES = {name: sql.partition(" FROM ")[2].partition(" ")[0] for name, sql in ROWS.items() if sql}
ROUTES = ("buy",)


@pytest.fixture(scope="module")
def people(register):
    """Who may edit one thing or another."""
    return [Visitor(register.address, follow=False).sign_in(name, PASSWORD) for name in ("maud", "ada", "bram")]


def test_every_edit_form_is_looked_at():
    named = {name for name in get_resolver().reverse_dict if isinstance(name, str) and name.startswith("edit_")}
    assert named - {"edit_order", "edit_own_order"} == set(ROWS)  # those add or drop one thing, and show no row


@pytest.mark.parametrize("name", sorted(ROWS))
def test_it_saves_what_it_shows(register, people, name):
    wrong, before = [], stored(register, people, name)
    assert before
    for address in addresses(register, name):
        answer = sent_unchanged(people, name, address)
        if answer.status != 302:
            wrong.append((address, answer.status, answer.body[answer.body.find('id="errors"') :][:400]))
    assert not wrong
    assert stored(register, people, name) == before


TEXT = {"edit_boiler_part": "name", "edit_consumable": "name", "edit_drawing": "title", "edit_hold": "name",
        "edit_route": "says", "edit_scheme_row": "item", "edit_size": "name", "edit_subassembly": "name",
        "edit_pattern": "name", "edit_repair": "who", "edit_step": "who"}  # fmt: skip
"""A field of each form in which any words may be written; of the others the notes."""


@pytest.mark.parametrize("name", sorted(ROWS))
def test_whoever_saves_second_sees_both_values_and_may_take_the_others(register, people, name):
    address = addresses(register, name)[0]
    page, action = (address.removesuffix("edit"), address) if name == "edit_location" else (address, "")
    person, fields = next((p, found) for p in people if (found := sent_back(p.get(page).body, action)))
    text = TEXT.get(name) or next(field for field in ("note", "notes") if field in fields)
    shown = {field: value for field, (value,) in fields.items()}
    first, second = f"{shown[text]} one".strip(), f"{shown[text]} other".strip()
    assert person.post(address, **shown | {text: first}).status == 302
    told = person.post(address, **shown | {text: second})
    assert told.status == 409
    again = {field: value for field, (value,) in sent_back(told.body, action).items()}
    assert again[text] == second
    assert f"By now the register says: <strong>{html.escape(first)}</strong>" in told.body
    theirs = html.unescape(re.search(r'name="theirs" value="([^"]*)"', told.body)[1])
    assert person.post(address, **again | {"theirs": theirs}).status == 302
    assert sent_back(person.get(page).body, action)[text] == [first]


def addresses(register, name):
    keys = unlike(register, ROWS[name]) if ROWS[name] else [(route,) for route in ROUTES]
    step = -(-len(keys) // MOST)
    return [reverse(name, args=[LOCOMOTIVE, *key] if name == "edit_subassembly" else key) for key in keys[::step]]


def unlike(register, sql: str) -> list[tuple]:
    """What the SQL asks for, of one row for each set of columns that something stands in."""
    asked = sql.count(",") + 1
    rows = register.rows(sql.replace(" FROM ", ", * FROM "))
    return list({tuple(map(bool, row[asked:])): row[:asked] for row in rows}.values())


def sent_unchanged(people, name, address):
    page, action = (address.removesuffix("edit"), address) if name == "edit_location" else (address, "")
    for person in people:
        shown = person.get(page)
        if fields := sent_back(shown.body, action):
            assert all(len(values) == 1 for values in fields.values())
            return person.post(address, **{name: value for name, (value,) in fields.items()})
    return shown


def shown_in(page) -> dict:
    """What stands in the form, but for what says how new it is."""
    return {
        name: values
        for name, values in sent_back(page, "").items()
        if name not in ("seen", "was", "csrfmiddlewaretoken")
    }


def stored(register, people, name):
    """Every row, but for what moves with any event."""
    if name not in TABLES:
        return [fields for at in addresses(register, name) for p in people if (fields := shown_in(p.get(at).body))]
    columns = [row[1] for row in register.rows(f"PRAGMA table_info({TABLES[name]})") if row[1] != "last_event"]
    return register.rows(f"SELECT {', '.join(columns)} FROM {TABLES[name]} ORDER BY id")
