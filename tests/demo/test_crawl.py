"""Every kind of page that a person of each role can reach by links: none dead, none broken, each with its own title,
and none that asks the database once for each of its rows.

Of each kind of page one is opened; the others differ from it in their rows only.
"""

import html.parser
import re
import urllib.parse
from collections import Counter, defaultdict
from functools import cache
from itertools import combinations_with_replacement
from unittest import mock

import pytest
from django.contrib.auth.models import Group
from django.contrib.staticfiles import finders
from django.db import connection
from django.db.models import Count
from django.test import Client
from django.urls import Resolver404, ResolverMatch, resolve
from reportlab.platypus import BaseDocTemplate

from core.access import ANYONE, SIGNED_IN
from core.domain.catalogue import may
from core.models import Person
from parts.models import Component

pytestmark = pytest.mark.django_db

EVERYTHING = "maud"
"""The responsible engineer comes first and opens a page for each word and each two words that it can be asked with;
the others, of other roles, one of each route. What is no page, such as a PDF, says the same to all who may have it, so
of the others only that is asked."""
PEOPLE = (EVERYTHING, "pim", "nell", "bram", "petra", "ada", "rolf")
FOUND: dict[str, set[str]] = defaultdict(set)
"""What she found on each route: text/html, application/pdf."""

STARTS = ("/", "/find/?q=plate")
LINKS = {"href", "src", "hx-get", "data-hx-get"}
HTML = "text/html"
OFTEN = 4
"""How often a page may put one question. The demo has more than this of whatever a page lists."""


MARKUP = re.compile(r"""<!--.*?-->|<(?:[^<>"']|"[^"]*"|'[^']*')*>|<""", re.DOTALL)


class Markup(html.parser.HTMLParser):
    """What stands between < and >."""

    started: tuple[str, dict] | None = None
    ended = ""

    def __init__(self, text: str):
        super().__init__()
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        self.started = (tag, dict(attributes))

    def handle_endtag(self, tag):
        self.ended = tag


understood = cache(Markup)
"""Pages say much the same, so each tag is read once, not once a page."""


class Read:
    """What a test asks of a page."""

    def __init__(self, page: str):
        self.title, self.links, self.ids, self.tags, self.inline, self.language = "", [], Counter(), Counter(), [], ""
        self.stack = ""
        self.form: dict | None = None
        self.unaware: list[list[str]] = []  # of each form that is sent and shows words, but not how new they are
        at = 0
        for found in MARKUP.finditer(page):
            if self.stack == "title":
                self.title += html.unescape(page[at : found.start()]).strip()
            at, markup = found.end(), understood(found[0])
            assert found[0] != "<", page[found.start() :][:80]
            if markup.started:
                self.start(*markup.started)
            if markup.ended:
                self.end(markup.ended)

    def start(self, tag: str, named: dict):
        self.stack = tag
        self.tags[tag] += 1
        self.links += [link for name in LINKS & named.keys() if (link := named[name]) and not link.startswith("tel:")]
        if "id" in named:
            self.ids[named["id"]] += 1
        if tag == "form":
            self.form = {"sent": named.get("method", "").lower() == "post", "seen": False, "shows": []}
        if tag == "input" and self.form:
            self.form["seen"] |= named.get("name") == "seen"
            if named.get("value") and named.get("type", "text") in ("text", "number"):
                self.form["shows"].append(named.get("name", ""))
        if tag == "html":
            self.language = named.get("lang", "")
        self.inline += [f"{tag} {name}" for name in named if name.startswith("on") or name == "style"]
        if tag == "style" or (tag == "script" and "src" not in named):
            self.inline.append(tag)

    def end(self, tag: str):
        self.stack = ""
        if tag == "form" and self.form:
            if self.form["sent"] and self.form["shows"] and not self.form["seen"]:
                self.unaware.append(self.form["shows"])
            self.form = None


@cache
def kind_of(address: str) -> tuple:
    """Pages of one kind come from one view."""
    path = address.partition("?")[0]
    if not (found := resolved(path)):
        return (path,)  # a file, or a dead link: opened once
    return found.url_name, found.kwargs.get("slug") if found.url_name == "do" else None


@cache
def asked_with(address: str) -> set[tuple]:
    """The words of its query, each with each."""
    words = ["", *sorted(urllib.parse.parse_qs(address.partition("?")[2]))]
    return set(combinations_with_replacement(words, 2))


@cache
def resolved(path: str) -> ResolverMatch | None:
    try:
        return resolve(urllib.parse.unquote(path))
    except Resolver404:
        return None


def is_page(route: str) -> bool:
    """Or is nothing but a file, which needs no second opening."""
    return HTML in FOUND[route] or not FOUND[route]


class Crawl:
    """The pages reached from the first one, and what is wrong with them."""

    def __init__(self, client: Client, person: Person, by_query: bool):
        self.client, self.person = client, person
        self.pages, self.wrong, self.asked_often, self.wrote = {}, [], {}, {}
        self.opened, self.seen, self.queue = defaultdict(set), set(STARTS), [(start, "the start") for start in STARTS]
        while self.queue:
            address, source = self.queue.pop(0)
            if not self.may(address):
                self.wrong.append(f"{person} may not {address}, linked from {source}")
            kind, asked = kind_of(address), asked_with(address) if by_query else {()}
            if not asked <= self.opened[kind] and (by_query or is_page(kind[0])):
                self.opened[kind] |= asked
                self.open(address, source)

    def may(self, address: str) -> bool:
        """Every link is asked, not one of a kind: does the person get in there?"""
        found = resolved(address.partition("?")[0])
        deeds = found.func.may_use if found else SIGNED_IN
        return deeds in (ANYONE, SIGNED_IN) or any(may(self.person.role_names, deed) for deed in deeds)

    def open(self, address: str, source: str) -> None:
        if address.startswith("/static/"):
            if not finders.find(urllib.parse.unquote(address.removeprefix("/static/"))):
                self.wrong.append(f"no file {address}, linked from {source}")
            return
        answer, body, often, question, written = opened(self.client, address)
        if written:
            self.wrote[address] = written
        if answer.status_code >= 400:
            self.wrong.append(f"{answer.status_code} {address}, linked from {source}")
        if often > OFTEN:
            self.asked_often[address] = (often, question)
        found = answer.get("Content-Type", "").partition(";")[0]
        if self.person.username == EVERYTHING:
            FOUND[kind_of(address)[0]].add(found)
        if found == HTML:
            here = answer.redirect_chain[-1][0] if answer.redirect_chain else address
            self.go_on(urllib.parse.urldefrag(urllib.parse.urljoin(address, here)).url, body.decode("utf-8"), address)

    def go_on(self, here: str, body: str, address: str) -> None:
        page = self.pages[here] = Read(body)
        for link in page.links:
            target = urllib.parse.urlsplit(urllib.parse.urljoin(here, link))
            if target.netloc:
                self.wrong.append(f"{address} leads away, to {link}")
                continue
            onward = target.path + (f"?{target.query}" if target.query else "")
            if onward not in self.seen:
                self.seen.add(onward)
                self.queue.append((onward, address))


def opened(client: Client, address: str) -> tuple:
    """The answer with its body; how often it asked what it asked most often, and what that was; and what it wrote."""
    questions, written = Counter(), set()
    with connection.execute_wrapper(counting(questions, written)):
        answer = client.get(address, follow=True)
        body = b"".join(answer.streaming_content) if answer.streaming else answer.content
    ((question, often),) = questions.most_common(1) or [("", 0)]
    return answer, body, often, question, written


WHO_LOOKED = ("django_session", "workshop_signin")
WRITING = re.compile(r"(?:INSERT INTO|UPDATE|DELETE FROM|REPLACE INTO) \"?(\w+)")


def counting(questions: Counter, written: set[str]):
    def count(execute, sql, params, many, context):
        if sql.startswith("SELECT"):
            questions[of_any_length(sql)] += 1
        elif (table := WRITING.match(sql)) and table[1] not in WHO_LOOKED:
            written.add(table[1])
        return execute(sql, params, many, context)

    return count


@cache
def of_any_length(sql: str) -> str:
    """The same for a list of two as for one of twenty."""
    return re.sub(r"\((?:%s, )+%s\)", "(%s)", sql)


@pytest.fixture(scope="module", params=PEOPLE)
def crawled(demo_in_the_database, request):
    client = Client()
    person = Person.objects.get(username=request.param)
    client.force_login(person)
    return Crawl(client, person, by_query=request.param == EVERYTHING)


def test_no_link_is_dead_and_no_page_is_broken(crawled):
    assert not crawled.wrong
    assert len(crawled.pages) > 30


def test_no_page_asks_the_database_once_for_each_of_its_rows(crawled):
    assert not crawled.asked_often


@pytest.mark.needs_postgres
def test_every_page_is_answered_on_postgresql(demo_in_the_database):
    """One of each kind, opened by somebody who has every role."""
    person = Person.objects.get(username=EVERYTHING)
    person.groups.set(Group.objects.all())
    client = Client()
    client.force_login(person)
    with mock.patch.object(BaseDocTemplate, "build"):
        crawled = Crawl(client, person, by_query=False)
    assert not crawled.wrong
    assert len(crawled.opened) > 230


@pytest.mark.parametrize("much", ["examinations", "movements", "place__inner", "place__dimensions"])
def test_nor_does_that_of_the_piece_with_the_most_on_it(demo_in_the_database, much):
    client = Client()
    client.force_login(Person.objects.get(username="maud"))
    piece = Component.objects.annotate(number=Count(much, distinct=True)).latest("number")
    assert piece.number > 2
    _, _, often, question, _ = opened(client, f"/t/{piece.tags.current_code()}")
    assert often <= OFTEN, question


def test_every_page_is_whole(crawled):
    for address, page in crawled.pages.items():
        assert page.language == "en-GB", address
        assert page.tags["h1"] == page.tags["main"] == 1, address
        assert not page.inline, address
        assert not {name for name, number in page.ids.items() if number > 1}, address


def test_every_page_has_a_title_of_its_own(crawled):
    titles = defaultdict(set)
    for address, page in crawled.pages.items():
        titles[page.title].add(address.partition("?")[0])
    assert not {title: where for title, where in titles.items() if len(where) > 1 or not title}


MAKES_NEW = {
    "add_hold", "add_location", "add_position", "begin_piece", "begin_stay_map", "begin_survey", "begin_test",
    "better_contraction", "better_density", "labels", "machine_work", "receive_stock", "start_on", "strip", "weld_up",
}  # fmt: skip
"""Forms for something new that propose words: nothing is written over."""


def test_a_form_that_shows_what_is_stored_says_how_new_it_is(crawled):
    """It carries `seen`, so that whoever saves second is told."""
    pages = {here: page.unaware for here, page in crawled.pages.items() if page.unaware}
    assert {here: shows for here, shows in pages.items() if kind_of(here)[0] not in MAKES_NEW} == {}


def test_looking_writes_nothing(crawled):
    """Except who looked: so no search waits for a writer, and a page that a browser has already may be left unread."""
    assert not crawled.wrote
