"""The register of drawings: what each shows, what it is good for and how that is known, and where they disagree."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import needs_signature, signed_in, who_may
from core.domain.catalogue import may
from parts.common.confirm_form import ask, of_place, seen, sent
from parts.common.shortcuts import position_or_404, refusals_on, status_in, words_in
from parts.models import Conflict, Drawing, Locomotive

from ..forms import ConflictForm, DrawingForm, GoodForForm, NewDrawing, ScanForm, SettleForm, ShowsForm
from ..writers import drawings as writers

PAGE = 60
CRUMBS = [{"href": "/drawings/", "label": "Drawings"}]


@signed_in
@require_safe
def drawings(request):
    text, slug = words_in(request, "q"), request.GET.get("for", "")
    unscanned = bool(request.GET.get("unscanned"))
    engines = list(Locomotive.objects.order_by("name"))
    engine = next((each for each in engines if each.slug == slug), None)
    found = Drawing.objects.as_list()
    found = found.with_words(text) if text else found
    found = found.good_for(engine) if engine else found
    found = found.without_scan() if unscanned else found
    page = {
        "page": "Drawings",
        "q": text,
        "engines": engines,
        "engine": engine,
        "unscanned": unscanned,
        "narrowed": bool(text or engine or unscanned),
        "page_obj": Paginator(found, PAGE).get_page(request.GET.get("page", "1")[:6]),
        "open_conflicts": Conflict.objects.open().count(),
        "may_edit": may(request.user.role_names, "edit drawings"),
    }
    return render(request, "parts/drawings/drawings.html", page)


@signed_in
@require_safe
def drawing(request, pk):
    return show(request, drawing_or_404(pk))


def show(request, found, status=200, **forms):
    roles = request.user.role_names
    page = {
        "page": f"Drawing {found}",
        "crumbs": [*CRUMBS, {"label": str(found)}],
        "drawing": found,
        "scans": list(found.papers.order_by("-id")),
        "good": list(found.good_for.select_related("locomotive", "by")),
        "positions": list(found.positions.select_related("subassembly", "locomotive").order_by("subassembly", "id")),
        "conflicts": list(Conflict.objects.of_drawing(found)),
        "scan_form": forms.get("scan_form") or ScanForm(),
        "good_form": forms.get("good_form") or GoodForForm(),
        "may_edit": may(roles, "edit drawings"),
        "may_settle": may(roles, "decide"),
    }
    return render(request, "parts/drawings/drawing.html", page, status=status)


@who_may("edit drawings")
@require_http_methods(["GET", "HEAD", "POST"])
def add_drawing(request):
    """A new one; `?position=` names a place that it shows, whose number it then starts with."""
    number = request.GET.get("position", "")
    place = position_or_404(int(number)) if number.isdecimal() and len(number) < 12 else None
    form = NewDrawing(
        sent(request), request.FILES or None, initial={"number": place.drawing, "title": place.name} if place else {}
    )
    form.fields["original_at"].offer()

    def do(entered):
        made = writers.add_drawing(request.user, positions=[place] if place else (), **entered)
        return "The drawing is in the register. Next: say what it is good for, and how that is known.", made

    back = place.get_absolute_url() if place else reverse("drawings")
    says = f"It shows the {place.words}." if place else ""
    return ask(
        request, form, do, heading="A drawing", button="Save drawing", back=back, crumbs=CRUMBS, says=says, files=True
    )


@who_may("edit drawings")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_drawing(request, pk):
    found = drawing_or_404(pk)
    start = {name: getattr(found, name) for name in writers.DESCRIBED}
    start |= {"dated": found.drawn_on or found.year or "", "original_at": found.original_at and found.original_at.path}
    form = DrawingForm(sent(request), initial=seen(found, **start))
    form.fields["original_at"].offer()

    def do(entered):
        writers.edit_drawing(found, request.user, seen=form.cleaned_data["seen"], **entered)
        return "Kept.", found

    return ask(
        request, form, do, thing=found, heading=f"Edit {found}", button="Save", back=found.get_absolute_url(),
        crumbs=CRUMBS, mistake=reverse("strike", args=["drawing", pk]),
    )  # fmt: skip


@who_may("edit drawings")
@require_POST
def add_scan(request, pk):
    return _within(request, pk, ScanForm(request.POST, request.FILES), "scan_form", _keep_scan)


def _keep_scan(found, actor, entered):
    writers.add_scan(found, actor, entered["scan"])
    return "The scan is kept."


@who_may("edit drawings")
@require_POST
def good_for(request, pk):
    return _within(request, pk, GoodForForm(request.POST), "good_form", _good_for)


def _good_for(found, actor, entered):
    return f"Good for {writers.good_for(found, actor, **entered)}, {entered['how']}."


def _within(request, pk, form, name, do):
    """A small form on the page of the drawing itself."""
    found = drawing_or_404(pk)
    if form.is_valid():
        with refusals_on(form):
            messages.success(request, do(found, request.user, form.cleaned_data))
            return redirect(found)
    return show(request, found, status_in(form), **{name: form})


@who_may("edit drawings")
@require_POST
def not_good_for(request, pk, number):
    found = drawing_or_404(pk)
    row = next((row for row in found.good_for.all() if row.pk == number), None)
    if row is not None:
        writers.not_good_for(row, request.user)
        messages.success(request, "Taken out; the log keeps it.")
    return redirect(found)


@who_may("edit drawings")
@require_http_methods(["GET", "HEAD", "POST"])
def show_place(request, pk):
    """On a position: which drawing shows it."""
    place = position_or_404(pk)
    form = ShowsForm(sent(request), initial={"number": place.drawing})
    form.offer()
    back, crumbs = of_place(place)

    def do(entered):
        writers.show_place(entered["number"], place, request.user)
        return f"Drawing {entered['number']} shows it.", place

    return ask(
        request, form, do, heading=f"A drawing shows the {place.words}", button="Save", back=back, crumbs=crumbs,
        aside_href=f"{reverse('add_drawing')}?position={place.pk}", aside_label="It is not in the register yet",
    )  # fmt: skip


@who_may("edit drawings")
@require_POST
def show_place_not(request, pk, position):
    found = drawing_or_404(pk)
    writers.show_place(found, position_or_404(position), request.user, shown=False)
    return redirect(found)


@who_may("edit drawings")
@require_http_methods(["GET", "HEAD", "POST"])
def note_conflict(request, pk):
    """On a position: what its drawings say of one matter, side by side."""
    place = position_or_404(pk)
    form = ConflictForm(sent(request), drawings=list(Drawing.objects.for_place(place)[:12]))
    back, crumbs = of_place(place)

    def do(entered):
        writers.note_conflict(place, request.user, **entered)
        return "Kept side by side. The responsible engineer settles it.", place

    says = "Leave a drawing blank that says nothing of it."
    return ask(
        request, form, do, heading=f"Drawings of the {place.words} disagree", button="Save disagreement", back=back,
        crumbs=crumbs, says=says,
    )  # fmt: skip


@sensitive_post_parameters("signature")
@who_may("decide")
@require_http_methods(["GET", "HEAD", "POST"])
def settle_conflict(request, pk):
    conflict = Conflict.objects.by_number(pk)
    if conflict is None:
        raise Http404("No such conflict between drawings.")
    form = needs_signature(request, SettleForm(sent(request), conflict=conflict))
    back, crumbs = of_place(conflict.position)

    def do(entered):
        writers.settle_conflict(conflict, request.user, **entered)
        return "Settled.", conflict.position

    says = "; ".join(f"{side.drawing} says {side.says}" for side in conflict.sides.select_related("drawing"))
    return ask(
        request,
        form,
        do,
        heading=f"Settle: {conflict.about}",
        button="Save decision",
        back=back,
        crumbs=crumbs,
        says=says,
    )


def drawing_or_404(pk) -> Drawing:
    found = Drawing.objects.by_number(pk)
    if found is None:
        raise Http404("No such drawing.")
    return found
