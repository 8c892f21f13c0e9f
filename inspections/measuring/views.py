"""Measuring a piece at the bench: the whole sheet or one size at a time, judged as it is typed, and signed below."""

from functools import cached_property

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from core.access import who_may
from core.domain.catalogue import CATALOGUE, may
from core.domain.refusals import Refusal, Refused
from parts import facts
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404
from parts.domain.states import refusals_of
from parts.domain.words import Kind

from ..domain.typed_sheets import merged
from ..records.writers.drafts import keep
from ..records.writers.measurements import SIZED
from .forms import SignSheet, heard
from .measuring_context import dimensions_of, old_values, sheet_for

HEADINGS = {Kind.DIMENSIONAL: "Measure it", Kind.THICKNESS: "Survey its thickness"}
NAMES = {Kind.DIMENSIONAL: "measure", Kind.THICKNESS: "thickness"}


@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def measure(request, code):
    return sheet_page(request, code, Kind.DIMENSIONAL)


@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def thickness(request, code):
    return sheet_page(request, code, Kind.THICKNESS)


@who_may("examine")
@require_POST
def try_measure(request, code):
    return as_typed(request, code, Kind.DIMENSIONAL)


@who_may("examine")
@require_POST
def try_thickness(request, code):
    return as_typed(request, code, Kind.THICKNESS)


def sheet_page(request, code, kind: Kind):
    page = SizesPage(request, code, kind)
    against = page.against()
    if against:
        barred = 403 if against[0].code == "not-authorised" else 200 if request.method != "POST" else 422
        return page.show(None, against=against, status=barred)
    if request.method != "POST":
        return page.show(page.form())
    do = request.POST.get("do", "check")
    if do == "correct":
        return correct(page)
    page.keep()
    return write_down(page) if do == "sign" else go_on(page, do)


def as_typed(request, code, kind: Kind):
    """One size, judged while it is typed: it is kept, and what it comes to is shown."""
    page = SizesPage(request, code, kind)
    only = [one for one in page.dimensions if str(one.pk) == request.GET.get("size")]
    if not only or page.against():
        raise Http404("No such size on this sheet.")
    sent = heard(request.POST, only)
    sent["record"] = {}
    try:
        kept = page.keep(sent, seen=request.POST.get("seen", ""))
    except Refused:
        return HttpResponse(status=409)
    sheet = sheet_for(page.piece, request.user, kind, only, kept)
    shown = {"size": sheet.sizes[0], "kept": timezone.localtime(), "try_at": page.try_at, "big": "big" in request.GET}
    return render(request, "inspections/measuring/measure.html#answer", shown)


class SizesPage:
    """What the page stands on."""

    def __init__(self, request, code, kind: Kind):
        self.request, self.code, self.kind = request, code, kind
        self.piece = component_or_404(code)
        self.case = facts.context(self.piece, request.user, order=False)
        self.dimensions = dimensions_of(self.piece)
        self.earlier = self.piece.examinations.not_superseded().of_kinds(SIZED)
        self.address = reverse(NAMES[kind], args=[code])
        self.try_at = reverse(f"try_{NAMES[kind]}", args=[code])

    def against(self) -> list[Refusal]:
        found = refusals_of(CATALOGUE.action("examine"), self.case)
        if not found and self.kind.value not in self.case.actor.authorised:
            sentence = f"You are not authorised to sign “{self.kind}”."
            return [Refusal("not-authorised", sentence, "Ask an examiner who is.")]
        return found

    def keep(self, sent: dict | None = None, *, seen: str = "") -> dict:
        sent = sent or heard(self.request.POST, self.dimensions)
        return keep(self.piece, self.request.user, self.kind.value, lambda entered: merged(entered, sent), seen=seen)

    @cached_property
    def sheet(self):
        """Read once, and after what was sent has been kept."""
        return sheet_for(self.piece, self.request.user, self.kind, self.dimensions)

    def form(self) -> SignSheet:
        """As it was left: what was kept of it, the piece as it is now."""
        entered = self.sheet.entered.get("record", {})
        known = {"seen": self.piece.last_event, "on": entered.get("on") or timezone.localdate().isoformat()}
        if self.request.GET.get("supersedes"):
            known["supersedes"] = self.request.GET["supersedes"]
        return self.made(initial={name: value for name, value in entered.items() if value} | known)

    def made(self, data=None, **more) -> SignSheet:
        inner = [size for size in self.dimensions if size.inner] if self.kind is Kind.DIMENSIONAL else []
        return SignSheet(data, earlier=self.earlier.of_same_kind(self.kind), inner=inner, **more)

    def signing(self, data) -> SignSheet:
        """What was kept of the record, with what the page of signing adds."""
        entered = self.sheet.entered.get("record", {})
        ticked = {f"shut-{n}": value for n, value in enumerate(entered.get("shut", ()))}
        for name, value in ({"seen": str(self.piece.last_event)} | entered | ticked).items():
            data.setdefault(name, value)
        return self.made(data)

    def show(self, form, *, wrong=(), against=(), status=200):
        sheet, asked = self.sheet, self.request.GET
        if self.request.method == "POST":
            asked = self.request.POST
        at = None if against else step_at(sheet, asked.get("size", ""), asked.get("spot", ""))
        page = {
            "page": f"{HEADINGS[self.kind]}: {self.piece.name}, {self.code}",
            "crumbs": way_back(self.piece, self.code, HEADINGS[self.kind]),
            "heading": HEADINGS[self.kind],
            "piece": self.piece,
            "code": self.code,
            "kind": self.kind,
            "sheet": sheet,
            "form": form,
            "wrong": wrong,
            "against": against,
            "address": self.address,
            "try_at": self.try_at,
            "today": timezone.localdate(),
            "corrects": None if against else self.to_correct(sheet),
            "may_set_limits": may(self.case.actor.roles, "edit limits"),
            "place_caution": self.piece.place.caution if self.piece.place else "",
            **(step_context(sheet, at, self.address) if at is not None else {}),
        }
        return render(self.request, "inspections/measuring/measure.html", page, status=status)

    def to_correct(self, sheet):
        """The record that somebody came to correct, and whose values are not on the sheet yet."""
        wanted = self.request.GET.get("supersedes", "")
        if not wanted or wanted == sheet.entered.get("record", {}).get("supersedes"):
            return None
        return next((one for one in self.earlier if str(one.pk) == wanted), None)


def step_at(sheet, number: str, spot: str) -> int | None:
    """Which step of the one-at-a-time way is asked for; none is the whole sheet."""
    for at, (size, one) in enumerate(sheet.steps):
        if str(size.number) == number and (one is None or str(one) == (spot or "0")):
            return at
    return None


def step_context(sheet, at: int, address: str) -> dict:
    size, spot = sheet.steps[at]
    shown = size.figures if spot is None else [size.figures[spot]]
    before, after = (address_of(sheet, near, address) for near in (at - 1, at + 1))
    return {
        "alone": size, "spot": spot, "figures": shown, "number": at + 1, "steps": len(sheet.steps),
        "before": before, "after": after,
    }  # fmt: skip


def address_of(sheet, at: int, address: str) -> str:
    if not 0 <= at < len(sheet.steps):
        return ""
    size, spot = sheet.steps[at]
    query = f"?size={size.number}" + (f"&spot={spot}" if spot is not None else "")
    return f"{address}{query}#size-{size.number}"


def go_on(page: SizesPage, do: str):
    """To the next size, or back to the sheet. A size that cannot be read stays in sight."""
    sheet, sent = page.sheet, page.request.POST
    at = step_at(sheet, sent.get("size", ""), sent.get("spot", ""))
    if at is None:
        return redirect(f"{page.address}#sheet")
    size, spot = sheet.steps[at]
    shown = size.figures if spot is None else [size.figures[spot]]
    if do == "next" and not any(figure.trouble for figure in shown):
        return redirect(address_of(sheet, at + 1, page.address) or f"{page.address}#sign")
    if do == "check" and not any(figure.trouble for figure in shown):
        return redirect(address_of(sheet, at, page.address))
    return page.show(None, status=422)


def correct(page: SizesPage):
    """Put the old values in beforehand."""
    wanted = page.request.POST.get("supersedes", "")
    record = next((one for one in page.earlier if str(one.pk) == wanted), None)
    if record is None or record.kind != page.kind:
        raise Http404("No such record of this piece.")
    entered = old_values(record, page.dimensions)
    keep(page.piece, page.request.user, page.kind.value, lambda before: entered)
    messages.info(page.request, "The values of that record are on the sheet. Correct them, then sign.")
    return redirect(page.address)


def write_down(page: SizesPage):
    """Kept already; to be read over and signed on the page of signing."""
    request, sheet = page.request, page.sheet
    form, wrong = page.made(request.POST), unready(sheet)
    if sheet.sizes and not sheet.done:
        form.add_error(None, "Measure at least one size before you sign.")
    if wrong or not form.is_valid():
        return page.show(form, wrong=wrong, status=422)
    return redirect("sign_record", page.code, page.kind.replace(" ", "-"))


def unready(sheet) -> list[tuple[str, str]]:
    """What keeps each size from being signed, and where it stands on the sheet."""
    return [(f"#size-{size.number}", sentence) for size in sheet.sizes for sentence in size.line.troubles()]
