"""Everything else, by what the person's roles allow."""

from django.shortcuts import render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from core.web.rooms import LOCOMOTIVE, SHED, STORES, WORKS, YOU, nav_links, printed_papers
from parts.domain import meanings
from parts.models import Locomotive

from .way_picture import way_picture


@require_safe
@signed_in
def more(request):
    roles, locomotives = request.user.role_names, list(Locomotive.objects.all()[:20])
    groups = [(SHED, links(SHED, roles)), (STORES, links(STORES, roles))]
    groups += [(loco.name, links(LOCOMOTIVE, roles, loco.slug)) for loco in locomotives]
    groups += [(WORKS, links(WORKS, roles)), ("To print", papers(locomotives)), (YOU, links(YOU, roles))]
    page = {"page": "More", "groups": [(heading, found) for heading, found in groups if found]}
    return render(request, "workshop/navigation/more.html", page)


@require_safe
@signed_in
def words(request):
    """What the special words mean, with the way that a piece goes."""
    lists = (("What has become of a piece", meanings.STATES), ("What a place needs", meanings.NEEDS))
    asked = request.GET.get("word", "")
    found = (heading for heading, known in (*lists, ("Other words", meanings.OTHERS)) if asked in map(slugify, known))
    page = {
        "page": "What the words mean",
        "open": next(found, ""),
        "path": way_picture(),
        "lists": [(heading, [(str(word), meaning) for word, meaning in found.items()]) for heading, found in lists],
        "others": list(meanings.OTHERS.items()),
    }
    return render(request, "workshop/navigation/words.html", page)


def papers(locomotives: list[Locomotive]) -> list[tuple[str, str, str]]:
    """The papers of the whole works and of each locomotive; of smaller things their own pages offer them."""
    found = [(reverse(paper.to), "i-print", paper.label) for paper in printed_papers("")]
    of_each = printed_papers("locomotive")
    for loco in locomotives:
        found += [(reverse(p.to, args=[loco.slug]), "i-print", f"{loco.name}: {p.label}") for p in of_each]
    return found


def links(under: str, roles, *args: str) -> list[tuple[str, str, str]]:
    """The ways in under a heading that these roles may go: address, icon, what it says."""
    return [
        (reverse(link.to, args=args), link.icon, link.label)
        for link in nav_links(under)
        if not link.may or may(roles, link.may)
    ]
