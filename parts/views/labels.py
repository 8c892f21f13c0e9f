"""Printing tags and crate labels: chosen by tag, by crate, by subassembly, or a roll of unused ones."""

from django import forms
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from workshop.access import who_may

from .. import printing
from ..labels import SHEETS, LabelError
from ..models import Location, Subassembly, Tag


class LabelsForm(forms.Form):
    tags = forms.CharField(
        label="Tags",
        required=False,
        widget=forms.Textarea({"rows": 4, "class": "mono"}),
        help_text="Codes with spaces between.",
    )
    unused = forms.IntegerField(
        label="Or so many unused tags", required=False, min_value=1, max_value=printing.MOST_LABELS
    )
    sheet = forms.ChoiceField(label="Sheet", choices=[*SHEETS.items(), ("own", "another layout, written below")])
    layout = forms.CharField(
        label="Layout", required=False, help_text="Such as a4:cols=3,rows=8,margin=10,gap=2 or roll-50x30."
    )
    start = forms.IntegerField(
        label="First cell to print on",
        required=False,
        min_value=1,
        help_text="On a sheet that was begun, counted along the rows.",
    )

    def sheet_words(self) -> str:
        """The layout as `parse_sheet` reads it."""
        said = self.cleaned_data
        words = said["layout"].strip() if said["sheet"] == "own" else said["sheet"]
        if said["start"] and said["start"] > 1:
            words += f"{',' if ':' in words else ':'}start={said['start']}"
        return words


@who_may("print labels")
@require_http_methods(["GET", "HEAD", "POST"])
def labels(request):
    form = LabelsForm(request.POST or None, initial={"tags": " ".join(_chosen(request)), "sheet": "a4-3x8"})
    if request.method == "POST" and form.is_valid():
        try:
            return _answer(form, request.user)
        except LabelError as trouble:
            form.add_error(None, str(trouble))
    page = {"page": "Print labels", "form": form, "address": printing.settings.ADDRESS}
    page["shaky"] = printing.shaky(page["address"]) if page["address"] else ""
    return render(request, "parts/labels.html", page, status=422 if form.errors else 200)


def _answer(form, person):
    said, base = form.cleaned_data, printing.address()
    if said["unused"]:
        pdf = printing.print_unused(said["unused"], form.sheet_words(), base, person)
    else:
        pdf = printing.print_tags(printing.tags_of(said["tags"]), form.sheet_words(), base, person)
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer.headers["Content-Disposition"] = 'inline; filename="labels.pdf"'
    return answer


def _chosen(request) -> list[str]:
    """Codes to begin with: of a place and what lies in it, of a subassembly, or named in the address."""
    if place := Location.objects.by_number(request.GET.get("location")):
        return Tag.objects.codes_in(place)
    if sub := Subassembly.objects.by_number(request.GET.get("subassembly")):
        return Tag.objects.codes_of_subassembly(sub)
    return request.GET.get("tags", "").replace(",", " ").split()
