"""Collecting a kit: what to fetch, in walking order of the stores; each piece ticked by its tag."""

from itertools import groupby

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.refusals import Refused

from ..common.confirm_form import ask, sent
from ..common.shortcuts import crumbs, status_of, subassembly_or_404
from ..domain.plain import capital, several
from ..models import Component, Kit, KitLine, Location, Position, Subassembly
from ..models.locations import as_numbered
from ..queries.consumables import wanted_in
from ..tags.typed_tags import named
from ..tags.views import read_photo
from . import writers
from .forms import BeginKit

NOWHERE = "Nobody has recorded where"


@signed_in
@require_safe
def kits(request):
    page = {"page": "Kits being collected", "kits": list(Kit.objects.open())}
    return render(request, "parts/kits/kits.html", page)


@who_may("collect kit")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_kit(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    number = writers.ready_for(subassembly).count()

    def do(entered):
        kit = writers.begin(subassembly, request.user, gathered_at=entered["gathered_at"])
        return f"Collect {several(kit.lines.count(), 'piece')}.", kit.get_absolute_url()

    return ask(
        request, BeginKit(sent(request)), do, heading=f"Collect the kit: {subassembly.name}", button="Collect kit",
        back=subassembly.get_absolute_url(), crumbs=crumbs(subassembly),
        says=f"{capital(several(number, 'piece is', 'pieces are'))} ready for it and for its parts.",
    )  # fmt: skip


@signed_in
@require_safe
def kit(request, pk):
    return show(request, kit_or_404(pk))


def show(request, kit, *, refusals=(), **more):
    lines = list(kit.lines.select_related("component__location", "component__place", "taken_by"))
    codes = {piece.pk: piece.code for piece in Component.objects.named([x.component_id for x in lines]).with_codes()}
    for line in lines:
        line.code = codes.get(line.component_id) or ""
    of_kit = Subassembly.objects.with_all_parts(kit.subassembly.locomotive_id, kit.subassembly.code)
    due = sorted((line for line in lines if not line.taken_at and not line.missed), key=_on_the_way)
    page = {
        "page": f"Kit: {kit.subassembly.name}",
        "crumbs": [*crumbs(kit.subassembly), {"href": "", "label": "Kit"}],
        "kit": kit,
        "stops": [(where, list(there)) for where, there in groupby(due, key=_where)],
        "due": len(due),
        "taken": sorted((line for line in lines if line.taken_at), key=lambda line: line.taken_at, reverse=True),
        "missed": [line for line in lines if line.missed],
        "total": len(lines),
        "new": _new_each_time(of_kit),
        "to_suit": list(Position.objects.made_at_fitting(of_kit)),
        "may_collect": may(request.user.role_names, "collect kit") and not kit.closed_at,
        "refusals": refusals,
        "done": "",
    }
    return render(request, "parts/kits/kit.html", page | more, status=status_of(refusals))


def _new_each_time(subassemblies):
    """Joints, split pins, packing: what the open places take, in walking order, and how much of it is missing."""
    rows = [(one, stock, wanted, stock.short_here(wanted)) for one, stock, wanted in wanted_in(*subassemblies)]
    return sorted(rows, key=lambda row: _in_walking_order(row[0].location))


def _on_the_way(line: KitLine):
    return *_in_walking_order(line.component.location), line.component.name, line.pk


def _in_walking_order(place: Location | None) -> tuple[bool, list]:
    """What lies nowhere comes last."""
    return place is None, as_numbered(place) if place else []


def _where(line: KitLine) -> str:
    return line.component.location.words if line.component.location else NOWHERE


@who_may("collect kit")
@require_POST
def take_piece(request, pk):
    """By its tag, read or typed, or by the button beside it where no tag can be read."""
    kit = kit_or_404(pk)
    if "picture" in request.FILES:
        read, refusals = read_photo(request)
        found = named(read.codes)
        pieces, refusals = found.pieces, [*refusals, *found.refusals]
    elif "piece" in request.POST:
        pieces, refusals = [piece_or_404(request.POST["piece"])], []
    else:
        found = named([request.POST.get("code", "")], typed=True)
        pieces, refusals = found.pieces, found.refusals
    sentences = []
    for piece in pieces:
        try:
            new = writers.take(kit, piece, request.user)
            sentences.append(f"{capital(piece.name)}: {'in hand' if new else 'in hand already'}.")
        except Refused as refused:
            refusals += refused.refusals
    if refusals:
        return show(request, kit, refusals=refusals, done=" ".join(sentences))
    messages.success(request, " ".join(sentences) or "That tag is not tied to a piece.")
    return redirect(kit)


@who_may("collect kit")
@require_POST
def put_back(request, pk):
    return _one(request, pk, writers.put_back, "goes back on the list")


@who_may("collect kit")
@require_POST
def miss_piece(request, pk):
    return _one(request, pk, writers.miss, "is not there. Its place says “find” from now on")


def _one(request, pk, write, told):
    kit, piece = kit_or_404(pk), piece_or_404(request.POST.get("piece", ""))
    try:
        write(kit, piece, request.user)
    except Refused as refused:
        return show(request, kit, refusals=refused.refusals)
    messages.success(request, f"{capital(piece.name)} {told}.")
    return redirect(kit)


@who_may("collect kit")
@require_POST
def end_kit(request, pk):
    kit = kit_or_404(pk)
    try:
        writers.end(kit, request.user)
    except Refused as refused:
        return show(request, kit, refusals=refused.refusals)
    messages.success(request, f"The {kit} is together.")
    return redirect(kit.subassembly)


def kit_or_404(pk) -> Kit:
    kit = Kit.objects.by_number(pk)
    if kit is None:
        raise Http404("No such kit.")
    return kit


def piece_or_404(number: str) -> Component:
    piece = (
        Component.objects.select_related("location", "place", "fitted").filter(pk=number).first()
        if number.isdecimal()
        else None
    )
    if piece is None:
        raise Http404("No such piece.")
    return piece
