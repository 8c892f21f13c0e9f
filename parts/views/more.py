"""Everything else, by what the person's roles allow."""

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from workshop.access import signed_in
from workshop.roles import may

from ..models import Locomotive


@require_safe
@signed_in
def more(request):
    roles = request.user.role_names
    groups = [("In the shed", list(shed(roles))), ("Stores", list(stores(roles)))]
    groups += [(loco.name, list(of_locomotive(loco, roles))) for loco in Locomotive.objects.all()[:20]]
    groups += [
        ("The works", list(works(roles))),
        ("You", [(reverse("me"), "i-person", "Your roles, password, PIN and devices")]),
    ]
    page = {"page": "More", "groups": [(heading, links) for heading, links in groups if links]}
    return render(request, "parts/more.html", page)


def shed(roles):
    if may(roles, "strip"):
        yield reverse("strip"), "i-add", "A piece comes off"
    yield reverse("examinations"), "i-edit", "What waits to be examined"
    yield reverse("instruments"), "i-edit", "Instruments and their calibrations"
    yield reverse("find"), "i-find", "Find anything"


def stores(roles):
    yield reverse("locations"), "i-crate", "Where things lie"
    yield reverse("patterns"), "i-crate", "Patterns, core boxes and jigs"
    yield reverse("stock_takes"), "i-good", "Stock-take"
    if may(roles, "print labels"):
        yield reverse("labels"), "i-print", "Print tags and crate labels"


def of_locomotive(locomotive, roles):
    slug = locomotive.slug
    yield reverse("order", args=[slug]), "i-locomotive", "Order of assembly"
    yield reverse("structure", args=[slug]), "i-place", "Structure: subassemblies and places"
    yield reverse("renewals", args=[slug]), "i-add", "Renewals"
    yield reverse("locomotive_fits", args=[slug]), "i-place", "Fits: what runs or presses together"
    yield reverse("holds", args=[slug]), "i-warn", "Hold points"
    yield reverse("overhauls", args=[slug]), "i-next", "Overhauls"
    yield reverse("ledger", args=[slug]), "i-info", "How original it is, and where the old ones went"
    yield reverse("money", args=[slug]), "i-info", "Money: estimated, ordered, paid"
    if may(roles, "import"):
        yield reverse("import_register", args=[slug]), "i-add", "Take over a list"


def works(roles):
    yield reverse("limit_sheets"), "i-info", "Limit sheets"
    yield reverse("drawings"), "i-place", "Drawings"
    yield reverse("firms"), "i-person", "Firms"
    yield reverse("routes"), "i-next", "Routes to a new piece"
    yield reverse("stock"), "i-crate", "Plate and bar"
    if may(roles, "edit structure"):
        yield reverse("new_locomotive"), "i-locomotive", "A new locomotive"
    if may(roles, "edit people"):
        yield reverse("people"), "i-person", "People and their roles"
    if may(roles, "invite"):
        yield reverse("invitations"), "i-add", "Invitations"
    if may(roles, "share device"):
        yield reverse("tablets"), "i-scan", "Shared tablets"
