"""What is backed up, and how old the copy away from the building is."""

from django import forms
from django.conf import settings
from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.disk import data_folder
from parts.common.shortcuts import refusals_on, status_in

from . import copies, nightly


class AwayForm(forms.Form):
    where = forms.CharField(
        label="Where the copy is now",
        max_length=160,
        required=False,
        help_text="And on what: the red memory stick, in the treasurer's house.",
    )


@who_may("look after backups")
@require_http_methods(["GET", "HEAD", "POST"])
def backups(request):
    form = AwayForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            copies.took_away(request.user, form.cleaned_data["where"])
            messages.success(request, "Written down: a copy is away from the building.")
            return redirect("backups")
    made = sorted(nightly.made().items(), reverse=True)
    page = {
        "page": "Backups",
        "form": form,
        "overdue": copies.overdue(),
        "copies": copies.copies(),
        "nights": [{"at": at, "name": path.name, "megabytes": f"{path.stat().st_size / 1e6:.1f}"} for at, path in made],
        "folder": settings.DATA / data_folder.BACKUPS,
    }
    return render(request, "workshop/backups/backups.html", page, status=status_in(form))
