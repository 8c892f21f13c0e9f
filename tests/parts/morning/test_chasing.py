"""Whom to ring first: what is overdue, in the one order of all work; and who reads how a firm is reached."""

import pytest

from core.models import Person
from parts.actions import writing
from parts.domain.words import Need, State
from parts.models import Component, Firm
from parts.morning.chasing import to_ring
from parts.queries.readiness import load_now
from parts.stores.writers import move
from parts.work.promises import chase
from tests.factories import a_works, days
from tests.parts.a_half_done_works import half_done
from tests.parts.jobs import a_firm

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture(scope="module")
def subs(works):
    return half_done(works)


def out_from(works, sub, firm: str, late: int) -> Component:
    """A piece of this subassembly at a firm of its own, promised back so many days ago."""
    piece = works.taken_over(State.CLEANED, works.plain_place(subassembly=sub))
    there = a_firm(works, name=firm, contact=f"telephone of {firm}").location
    move(piece, there, works.people.storekeeper, promised_back=writing.today())
    Component.objects.filter(pk=piece.pk).update(promised_back=days(-late))
    return piece


def ring(works):
    today = writing.today()
    found = load_now(works.locomotive, today).readiness()
    return to_ring(chase(today), found, Person.objects.actors(today), today, works.people.manager)


@pytest.mark.engine
def test_what_holds_up_more_comes_before_what_is_later_and_what_is_overdue_before_both(works, subs):
    out_from(works, subs["lamps"], "Later", late=30)
    out_from(works, subs["wheels"], "Wider", late=2)
    out_from(works, subs["wheels"], "Wider and later", late=5)
    out_from(works, subs["frames"], "Not due", late=-9)
    rows = ring(works)
    assert [row.firm.name for row in rows] == ["Wider and later", "Wider", "Later", "Not due"]
    first, last = rows[0].rows[0], rows[-1]
    assert (first.holds_up, first.held) == (
        3,
        "Frames and 2 more",
    )  # a horn stay of the frames goes on after the wheels, and so does the motion
    assert first.promised.need == Need.FETCH
    assert first.who.startswith("you")
    assert (last.late, last.next_due) == ([], days(9))


def test_without_an_order_of_assembly_the_latest_is_rung_first(works, subs):
    out_from(works, subs["lamps"], "Late", late=3)
    out_from(works, subs["wheels"], "Very late", late=8)
    today = writing.today()
    rows = to_ring(chase(today), None, Person.objects.actors(today), today)
    assert [(row.firm.name, row.rows[0].holds_up) for row in rows] == [("Very late", 0), ("Late", 0)]


@pytest.mark.parametrize(
    ("who", "reads"), [("manager", True), ("fitter", True), ("trustee", False), ("examiner", False)]
)
def test_only_the_office_and_whoever_repairs_read_how_a_firm_is_reached(client, works, subs, who, reads):
    out_from(works, subs["wheels"], "Wider", late=2)
    client.force_login(getattr(works.people, who))
    for address in ("/firms/", "/firms/?as=csv", f"/l/{works.locomotive.slug}/meeting/"):
        assert ("telephone of Wider" in client.get(address).content.decode()) == reads, address


def test_the_first_page_says_what_is_late_what_it_holds_up_and_whom_to_ring(client, works, subs):
    out_from(works, subs["wheels"], "Wider", late=2)
    client.force_login(works.people.manager)
    Firm.objects.filter(name="Wider").update(contact="Mrs Quayle, pattern shop, in the mornings only: 01632 960 114")
    for address in ("/", "/firms/"):  # cut short, and yet the whole number is rung
        assert 'href="tel:01632960114"' in client.get(address).content.decode()
    Firm.objects.filter(name="Wider").update(contact="telephone of Wider")
    text = client.get("/").content.decode()
    for words in ("telephone of Wider", "2 days overdue", "holds up 3: Frames and 2 more"):
        assert words in text
