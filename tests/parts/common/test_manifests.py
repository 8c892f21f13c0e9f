"""What the manifests of rooms say, and that the rest of the project asks them."""

from urllib.parse import unquote

import pytest
from django.urls import get_resolver, reverse

from core.roles import Role
from core.templatetags.look import drawings
from core.web.rooms import found_kinds, need_pages, printed_papers, rooms
from parts.common.need_links import need_link
from parts.domain.words import Need
from workshop.navigation.views import more


def addresses() -> dict[str, str]:
    """The pattern of every address, under its name."""
    found = get_resolver().reverse_dict
    return {name: found.getlist(name)[0][0][0][0] for name in found if isinstance(name, str)}


def test_every_paper_of_an_address_of_its_own_is_named_by_its_room():
    printed = {name for name, pattern in addresses().items() if pattern.endswith((".pdf", "/pdf"))}
    assert printed == {paper.to for room in rooms() for paper in room.papers}
    assert printed


def test_every_page_for_a_need_is_there():
    known = [unquote(pattern) for pattern in addresses().values()]
    for need, pages in need_pages().items():
        assert need in list(Need)
        for page in pages:
            shape = page.href.strip("/").split("/")
            assert any(fits(shape, pattern.strip("/").split("/")) for pattern in known), page.href


def test_every_way_in_leads_somewhere_and_has_an_icon_that_is_drawn():
    links = [link for room in rooms() for link in room.nav]
    assert {link.icon for link in links} <= drawings().keys()
    assert {link.to for link in links} <= addresses().keys()


def fits(shape: list[str], pattern: list[str]) -> bool:
    return len(shape) == len(pattern) and all(
        a.startswith("{") == b.startswith("%(") and (a == b or a.startswith("{"))
        for a, b in zip(shape, pattern, strict=True)
    )


@pytest.mark.parametrize(
    ("need", "role", "known", "leads"),
    [
        (Need.RELEASE, Role.RESPONSIBLE_ENGINEER, {"target": 3}, ("Ask for it, or release it", "/holds/3/")),
        (Need.RELEASE, Role.VOLUNTEER, {"target": 3}, ("See the hold point", "/holds/3/")),
        (Need.REPAIR, Role.FITTER, {"target": 4, "tag": "T"}, ("Go on with the repair", "/repairs/4/")),
        (Need.REPAIR, Role.FITTER, {"tag": "T"}, ("Begin the repair", "/t/T/repair")),
        (Need.REPAIR, Role.VOLUNTEER, {"tag": "T"}, None),
        (Need.SOURCE, Role.WORKS_MANAGER, {"place": 5}, ("Begin a renewal", "/p/5/renew")),
        (Need.SOURCE, Role.WORKS_MANAGER, {"tag": "T"}, None),
        (Need.FIT, Role.TRUSTEE, {"target": 6}, ("See what to make", "/fits/6/")),
        (Need.CLEAN, Role.VOLUNTEER, {"tag": "T"}, None),
        (None, Role.VOLUNTEER, {"tag": "T"}, None),
    ],
)
def test_the_way_out_of_a_need_is_the_first_page_that_fits(need, role, known, leads):
    link = need_link(need, [role], **known)
    assert (link and (link.label, link.href)) == leads


def test_whose_words_a_kind_says_can_be_found_too():
    kinds = found_kinds()
    assert {word for kind in kinds.values() for word in kind.says} <= kinds.keys()
    ranks = [kind.rank for kind in kinds.values() if kind.rank]
    assert len(ranks) == len(set(ranks))


def test_more_offers_the_papers_of_the_works_and_of_each_locomotive(works, rf):
    request = rf.get("/more/")
    request.user = works.people.trustee
    page = more(request).content.decode()
    (sheet,) = printed_papers("")
    assert f'href="{reverse(sheet.to)}"' in page
    for paper in printed_papers("locomotive"):
        assert f'href="{reverse(paper.to, args=[works.locomotive.slug])}"' in page
