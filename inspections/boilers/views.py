"""The boilers, and the file of one on one page."""

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from core.access import needs_signature, signed_in, who_may
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.confirm_form import ask, sent
from parts.common.small_forms import with_seen
from parts.domain.plain import capital, listed

from ..domain.boiler_words import CAUTION, PartKind
from ..domain.pressures import allowed_in_both, as_written_in_both
from ..models import Boiler
from . import writers
from .boiler_context import file_of
from .forms import AddBoiler, BoilerEntryForm, DescribeBoiler, DescribePart, MoveBoiler, WriteRow
from .shortcuts import ask_of_boiler, boiler_or_404, crumbs


@signed_in
@require_safe
def boilers(request):
    page = {
        "page": "Boilers",
        "boilers": Boiler.objects.in_order(),
        "caution": CAUTION,
        "may_keep": may(request.user.role_names, "keep boilers"),
    }
    return render(request, "inspections/boilers/boilers.html", page)


@signed_in
@require_safe
def boiler(request, pk):
    one = boiler_or_404(pk)
    file, parts = file_of(one, writing.today()), list(one.parts.all())
    page = {
        "page": capital(str(one)),
        "crumbs": crumbs(one),
        "boiler": one,
        "file": file,
        "allowed": as_written_in_both(file.allowed, allowed_in_both) if file.allowed else "",
        "entries": list(one.entries.select_related("part", "hold", "event__actor").order_by("-on", "-event")),
        "parts": _by_kind(parts, file.signed),
        "may_survey": any(part.kind == "plate" and part.width for part in parts),
        "caution": CAUTION,
        "wanted": as_written_in_both(one.wanted),
        "may_keep": may(request.user.role_names, "keep boilers"),
        "may_write": may(request.user.role_names, "write boiler records"),
    }
    return render(request, "inspections/boilers/boiler.html", page)


def _by_kind(parts, signed) -> list[tuple[str, list]]:
    """Each part with its last survey or map."""
    last = {record.part_id: record for record in reversed(signed) if not record.taken_over_by}
    found: dict[str, list] = {kind.value: [] for kind in PartKind}
    for part in parts:
        part.last = last.get(part.pk)
        found[part.kind].append(part)
    return [(KINDS_TOGETHER[kind], ones) for kind, ones in found.items() if ones]


KINDS_TOGETHER = {"plate": "plates", "seam": "seams", "stays": "stays", "tubes": "tubes", "mounting": "mountings"}


@who_may("keep boilers")
@require_http_methods(["GET", "HEAD", "POST"])
def add_boiler(request):
    def do(entered):
        made = writers.add_boiler(request.user, **entered)
        return f"The file of {made} is begun.", made.get_absolute_url()

    form = AddBoiler(sent(request))
    way = [{"href": reverse("boilers"), "label": "Boilers"}]
    page = {"heading": "A further boiler", "button": "Save boiler", "back": reverse("boilers"), "crumbs": way}
    return ask(request, form, do, cautions=[CAUTION], **page)


@who_may("keep boilers")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_boiler(request, pk):
    one = boiler_or_404(pk)
    edits = writers.edits_of(one)
    initial = {name: getattr(one, name) for name in writers.DESCRIBED}
    form = with_seen(DescribeBoiler(sent(request), initial=initial), edits)
    return _ask(request, one, form, writers.describe, f"Describe {one}", "Save boiler")


@who_may("keep boilers")
@require_http_methods(["GET", "HEAD", "POST"])
def put_part(request, pk, part=None):
    one = boiler_or_404(pk)
    found = _of(one.parts, part)
    initial = {name: getattr(found, name) for name in writers.PART} if found else None
    form = with_seen(DescribePart(sent(request), boiler=one, initial=initial), writers.edits_of(one, writers.PART_WORD))
    return _ask(request, one, form, writers.put_part, str(found or "A further part"), "Save part", part=found)


@who_may("keep boilers")
@require_http_methods(["GET", "HEAD", "POST"])
def put_row(request, pk, row=None):
    one = boiler_or_404(pk)
    found = _of(one.scheme, row)
    initial = {name: getattr(found, name) for name in writers.ROW} if found else None
    heading = str(found or "A further row of the written scheme")
    form = with_seen(WriteRow(sent(request), initial=initial), writers.edits_of(one, writers.ROW_WORD))
    return _ask(request, one, form, writers.put_row, heading, "Save row", row=found)


@sensitive_post_parameters("signature")
@who_may("keep boilers")
@require_http_methods(["GET", "HEAD", "POST"])
def enter(request, pk):
    one = boiler_or_404(pk)
    initial = {"on": writing.today(), "row": request.GET.get("row"), "kind": request.GET.get("kind")}
    form = needs_signature(request, BoilerEntryForm(sent(request), boiler=one, initial=initial))
    return _ask(request, one, form, writers.enter, "Write into the file", "Save entry")


@sensitive_post_parameters("signature")
@who_may("keep boilers")
@require_http_methods(["GET", "HEAD", "POST"])
def move_boiler(request, pk):
    one = boiler_or_404(pk)
    form = needs_signature(request, MoveBoiler(sent(request), initial={"on": writing.today()}))

    def tell(without):
        parts = listed(part.name for part in without)
        return f" No place in the register is known there for {parts}: edit each part to choose one." if parts else ""

    return _ask(request, one, form, writers.move, f"Move {one} with its file", "Move boiler", tell=tell)


def _ask(request, one, form, writer, heading, button, tell=lambda _: "", **fixed):
    def do(entered):
        made = writer(one, request.user, **fixed, **entered)
        return f"Saved in the file of {one}.{tell(made)}", one.get_absolute_url()

    return ask_of_boiler(one, request, form, do, heading, button)


def _of(rows, number):
    if number is None:
        return None
    found = rows.filter(pk=number).first()
    if found is None:
        raise Http404("The file of this boiler has no such row.")
    return found
