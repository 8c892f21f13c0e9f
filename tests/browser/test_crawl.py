"""Every kind of page that a person of each role can reach by links: none dead, none broken, each with its own title.

No browser is needed: this reads what the server sends. Of each kind of page (route, and what is asked in the address)
one or a few are opened; the others differ from them in their rows only.
"""

import html.parser
import urllib.parse
from collections import Counter, defaultdict

import pytest
from django.urls import Resolver404, resolve

from tests.demo_copy import PASSWORD
from tests.visitor import Visitor

OF_EACH_KIND = {"pim": 1, "nell": 1, "bram": 1, "petra": 1, "maud": 2, "ada": 1, "rolf": 1}
"""One person of each role, and how many pages of each kind are opened for them: most for the responsible engineer."""

LINKS = {"href", "src", "hx-get", "data-hx-get"}


class Read(html.parser.HTMLParser):
    """What a test asks of a page."""

    def __init__(self, page: str):
        super().__init__()
        self.title, self.links, self.ids, self.tags, self.inline, self.language = "", [], Counter(), Counter(), [], ""
        self.stack = ""
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        named = dict(attributes)
        self.stack = tag
        self.tags[tag] += 1
        self.links += [named[name] for name in LINKS & named.keys() if named[name]]
        if "id" in named:
            self.ids[named["id"]] += 1
        if tag == "html":
            self.language = named.get("lang", "")
        self.inline += [f"{tag} {name}" for name in named if name.startswith("on") or name == "style"]
        if tag == "style" or (tag == "script" and "src" not in named):
            self.inline.append(tag)

    def handle_endtag(self, tag):
        self.stack = ""

    def handle_data(self, data):
        if self.stack == "title":
            self.title += data.strip()


def kind_of(address: str) -> tuple:
    """Pages of one kind come from one view, asked in the same way."""
    path, _, query = address.partition("?")
    asked = tuple(sorted(urllib.parse.parse_qs(query)))
    try:
        found = resolve(urllib.parse.unquote(path))
    except Resolver404:
        return path, asked  # a file, or a dead link: opened once
    return found.url_name, found.kwargs.get("slug") if found.url_name == "do" else None, asked


def crawl(person: Visitor, of_each_kind: int) -> tuple[dict[str, Read], list[str]]:
    """The pages reached from the first one, and what is wrong with them."""
    pages, wrong, opened, seen, queue = {}, [], Counter(), {"/"}, [("/", "the start")]
    while queue:
        address, source = queue.pop(0)
        opened[kind_of(address)] += 1
        if opened[kind_of(address)] > of_each_kind:
            continue
        answer = person.get(address)
        if answer.status >= 400:
            wrong.append(f"{answer.status} {address}, linked from {source}")
        if "html" not in answer.type:
            continue
        here = urllib.parse.urlsplit(answer.url)  # where a redirect led to
        page = pages[here.path + (f"?{here.query}" if here.query else "")] = Read(answer.body)
        for link in page.links:
            target = urllib.parse.urlsplit(urllib.parse.urljoin(answer.url, link))
            if target.netloc != here.netloc:
                wrong.append(f"{address} leads away, to {link}")
                continue
            onward = target.path + (f"?{target.query}" if target.query else "")
            if onward not in seen:
                seen.add(onward)
                queue.append((onward, address))
    return pages, wrong


@pytest.fixture(scope="module", params=OF_EACH_KIND)
def crawled(register, request):
    return crawl(Visitor(register.address).sign_in(request.param, PASSWORD), OF_EACH_KIND[request.param])


def test_no_link_is_dead_and_no_page_is_broken(crawled):
    pages, wrong = crawled
    assert not wrong
    assert len(pages) > 30


def test_every_page_is_whole(crawled):
    pages, _ = crawled
    for address, page in pages.items():
        assert page.language == "en-GB", address
        assert page.tags["h1"] == page.tags["main"] == 1, address
        assert not page.inline, address
        assert not {name for name, number in page.ids.items() if number > 1}, address


def test_every_page_has_a_title_of_its_own(crawled):
    pages, _ = crawled
    titles = defaultdict(set)
    for address, page in pages.items():
        titles[page.title].add(address.partition("?")[0])
    assert not {title: where for title, where in titles.items() if len(where) > 1 or not title}
