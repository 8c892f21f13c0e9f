"""Collecting a kit: what to fetch, in walking order of the stores; each piece ticked by its tag."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.log.writing import written

from ..common.confirm_form import ask, of_place, sent
from ..common.shortcuts import crumbs, position_or_404, say_done, status_of, subassembly_or_404
from ..common.ticked import numbers_ticked
from ..domain.consumables import counted
from ..domain.plain import capital, several
from ..models import Component, Consumable, Kit, Location, Position
from ..tags.views import tags_sent
from . import writers
from .forms import BeginChosen, BeginKit
from .kit_list import kit_list

KEY = "kit"


@signed_in
@require_safe
def kits(request):
    page = {"page": "Kits being collected", "kits": list(Kit.objects.open())}
    return render(request, "parts/kits/kits.html", page)


@who_may("collect kit")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_kit(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    ready = writers.ready_for(writers.places_of(subassembly)).count()
    return _begin(
        request, BeginKit(sent(request)), lambda entered: writers.begin(subassembly, request.user, **entered),
        heading=f"Collect the kit: {subassembly.name}", back=subassembly.get_absolute_url(), crumbs=crumbs(subassembly),
        says=f"{capital(several(ready, 'piece is', 'pieces are'))} ready for it and for its parts.",
    )  # fmt: skip


@who_may("collect kit")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_kit_for_place(request, pk):
    place = position_or_404(pk)
    ready = writers.ready_for(Position.objects.with_all_inside(place)).count()
    back, above = of_place(place)
    return _begin(
        request, BeginKit(sent(request)), lambda entered: writers.begin_for_place(place, request.user, **entered),
        heading=f"Collect the kit: {place.words}", back=back, crumbs=above,
        says=f"{capital(several(ready, 'piece is', 'pieces are'))} ready for it and for what goes inside.",
    )  # fmt: skip


@who_may("collect kit")
@require_POST
def begin_kit_of_chosen(request):
    """First the pieces come, ticked in a list; then what they are for."""
    pieces = list(Component.objects.named(numbers_ticked(request.POST)).in_name_order())
    names = f": {', '.join(capital(piece.name) for piece in pieces[:12])}" + (" …" if len(pieces) > 12 else "")
    return _begin(
        request, BeginChosen(request.POST if "words" in request.POST else None, pieces=pieces),
        lambda entered: writers.begin_chosen(pieces, request.user, **entered),
        heading=f"Collect {several(len(pieces), 'piece')}", back=reverse("kits"), says=f"Chosen{names}.",
    )  # fmt: skip


def _begin(request, form, begin, **page):
    def do(entered):
        kit = begin(entered)
        return f"The kit is begun: {several(kit.lines.count(), 'piece')} to collect.", kit.get_absolute_url()

    return ask(request, form, do, button="Collect kit", **page)


@signed_in
@require_safe
def kit(request, pk):
    kit = kit_or_404(pk)
    if not kit.closed_at and may(request.user.role_names, "collect kit") and request.session.get(KEY) != kit.pk:
        request.session[KEY] = kit.pk  # the scan page leads back to it, and the page of a piece ticks it
    return show(request, kit)


def in_hand(request, component: Component) -> Kit | None:
    """The kit that this person is collecting, if this piece is still wanted for it."""
    number = request.session.get(KEY)
    return Kit.objects.due(number, component) if number and may(request.user.role_names, "collect kit") else None


def show(request, kit, *, refusals=(), **more):
    page = {
        "page": f"Kit: {kit.name}",
        "crumbs": [*(crumbs(kit.subassembly) if kit.subassembly else []), {"href": "", "label": "Kit"}],
        "kit": kit,
        "list": kit_list(kit),
        "may_collect": may(request.user.role_names, "collect kit") and not kit.closed_at,
        "refusals": refusals,
        "done": "",
    }
    return render(request, "parts/kits/kit.html", page | more, status=status_of(refusals))


@who_may("collect kit")
@require_POST
def take_piece(request, pk):
    """By its tag or that of its bag, read or typed, or by the button beside it where no tag can be read."""
    kit = kit_or_404(pk)
    if "consumable" in request.POST:
        return _new(request, kit, writers.take_new, _in_hand)
    things: list[Component | Location] = []
    refusals: list[Refusal] = []
    if "piece" in request.POST:
        things = [piece_or_404(request.POST["piece"])]
    elif "bag" in request.POST:
        things = [bag_or_404(request.POST["bag"])]
    else:
        found = tags_sent(request)
        things, refusals = [*found.pieces, *found.crates], [*found.refusals]
        if not things and not refusals:
            refusals = [Refusal("kit", "Scan the tag of a piece or of a bolt bag.", "This one hangs on neither.")]
    sentences = []
    for thing in things:
        try:
            sentences.append(_take(kit, thing, request.user))
        except Refused as refused:
            refusals += refused.refusals
    if refusals:
        return show(request, kit, refusals=refusals, done=" ".join(sentences))
    messages.success(request, " ".join(sentences))
    return redirect(_spot(request, kit))


def _take(kit: Kit, thing, actor) -> str:
    if not isinstance(thing, Component):
        return f"{thing.name}: {several(writers.take_bag(kit, thing, actor), 'piece')} in hand."
    return f"{capital(_called(thing))}: {'in hand' if writers.take(kit, thing, actor) else 'in hand already'}."


def _called(piece: Component) -> str:
    """By its place, which says the side."""
    return piece.place.words if piece.place else piece.name


def _spot(request, kit: Kit) -> str:
    """The page of the kit, at the line that the button stood beside or the one after it."""
    line = request.POST.get("next", "")
    return f"{kit.get_absolute_url()}#line-{line}" if line.isdecimal() else kit.get_absolute_url()


@who_may("collect kit")
@require_POST
def put_back(request, pk):
    if "consumable" in request.POST:
        return _new(request, kit_or_404(pk), writers.put_new_back, lambda one, number: f"{number} back on the shelf")
    return _one(request, pk, writers.put_back, "goes back on the list")


@who_may("collect kit")
@require_POST
def miss_piece(request, pk):
    return _one(request, pk, writers.miss, "is not there. Its place says “find” from now on")


def _one(request, pk, write, told):
    kit, piece = kit_or_404(pk), piece_or_404(request.POST.get("piece", ""))
    try:
        with written() as events:
            write(kit, piece, request.user)
    except Refused as refused:
        return show(request, kit, refusals=refused.refusals)
    say_done(request, f"{capital(_called(piece))} {told}.", events)
    return redirect(_spot(request, kit))


def _in_hand(one: Consumable, found: tuple[int, int]) -> str:
    number, short = (counted(count, one.unit) for count in found)
    return f"{number} in hand" + (f", {short} short: on the list to order" if found[1] else "")


def _new(request, kit: Kit, write, told):
    """Of what is new each time: from the shelf, or back to it."""
    one = consumable_or_404(request.POST["consumable"])
    try:
        with written() as events:
            found = write(kit, one, request.user)
    except Refused as refused:
        return show(request, kit, refusals=refused.refusals)
    say_done(request, f"{capital(str(one))}: {told(one, found)}.", events)
    return redirect(kit)


@who_may("collect kit")
@require_POST
def end_kit(request, pk):
    kit = kit_or_404(pk)
    try:
        number = writers.end(kit, request.user)
    except Refused as refused:
        return show(request, kit, refusals=refused.refusals)
    if request.session.get(KEY) == kit.pk:
        del request.session[KEY]
    messages.success(request, f"The {kit} is together: {number}.")
    return redirect(kit.subassembly or "kits")


def kit_or_404(pk) -> Kit:
    kit = Kit.objects.by_number(pk)
    if kit is None:
        raise Http404("No such kit.")
    return kit


def consumable_or_404(number: str) -> Consumable:
    found = Consumable.objects.by_number(number)  # also one that is out of use may be in hand
    if found is None:
        raise Http404("No such consumable.")
    return found


def bag_or_404(number: str) -> Location:
    bag = Location.objects.in_use().by_number(number)
    if bag is None:
        raise Http404("No such bag.")
    return bag


def piece_or_404(number: str) -> Component:
    piece = (
        Component.objects.select_related("location", "place", "fitted").filter(pk=number).first()
        if number.isdecimal()
        else None
    )
    if piece is None:
        raise Http404("No such piece.")
    return piece
