"""Undo: by the button in the bar that says it was done, or from the list of what one did in the last ten minutes."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.catalogue import ACT, may
from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from core.web.widgets import DeclaredFields
from parts.actions import undo as undoing
from parts.actions.forms import asked, line
from parts.common.confirm_form import ask, sent
from parts.common.shortcuts import component_or_404, status_of
from parts.common.small_forms import WhatMistake
from parts.domain.plain import listed

from . import writers
from .queries import earlier, latest

MOST = 200
NAMED = 12


@who_may("undo")
@require_http_methods(["GET", "HEAD", "POST"])
def undo(request):
    """POST `acts`: the numbers of what is to be undone, each by itself: one that cannot keeps none of the others."""
    if request.method != "POST":
        return show(request)
    done, refusals = undo_each(numbers_or_404(request), request.user)
    if done:
        more = f" and {len(done) - NAMED} more" if len(done) > NAMED else ""
        messages.success(request, f"Undone: {listed(done[:NAMED])}{more}.")
    if refusals:
        return show(request, refusals=refusals)
    back = request.POST.get("back", "")
    return redirect(back if url_has_allowed_host_and_scheme(back, allowed_hosts=None) else "undo")


@who_may("correct")
@require_http_methods(["GET", "HEAD", "POST"])
def correct(request, code):
    """What was done last to a piece is put back, whoever did it and however long ago, while nothing rests on it."""
    piece = component_or_404(code)
    last = Event.objects.select_related("actor").get(pk=piece.last_event)
    act = last.data.get(ACT, last.pk)
    why = undoing.may_be_corrected(act) if request.method != "POST" else None
    back = reverse("tag", args=[code])

    def do(entered):
        done = undoing.correct(act, request.user, **entered)
        return f"Corrected: {listed(done[:NAMED])}.", back

    sentence = f"{last.actor}, {timezone.localtime(last.at):%-d %b %Y, %H:%M}"
    heading = f"Was “{undoing.in_words(last)}” a mistake?"
    return ask(
        request, WhatMistake(sent(request)), do, heading=heading, button="Save correction",
        back=back, against=[why] if why else (), crumbs=[{"href": back, "label": f"{piece.name} {code}"}],
        says=f"{sentence}. Everything is put back as it was before.",
    )  # fmt: skip


class NameForm(forms.Form):
    use_required_attribute = False
    fields: DeclaredFields
    event: Any = asked(forms.ModelChoiceField(None, label="What was done", required=False, empty_label="Choose one"))
    person: Any = asked(forms.ModelChoiceField(None, label="Who did it", required=False, empty_label="Choose somebody"))
    reason = asked(line("How the wrong name came there", "It stays in the history.", most=300))

    def __init__(self, data, *, piece):
        super().__init__(data)
        done = Event.objects.about("piece", piece.pk).select_related("actor").order_by("-id")
        self.fields["event"].queryset = done
        self.fields["event"].label_from_instance = _told_shortly
        self.fields["person"].queryset = Person.objects.filter(is_active=True).order_by("username")

    def clean(self):
        missing = {"event": "Choose what was done.", "person": "Choose who did it."}
        for name, sentence in missing.items():
            if not self.cleaned_data.get(name) and name not in self.errors:
                self.add_error(name, sentence)
        return self.cleaned_data


def _told_shortly(event: Event) -> str:
    return f"{timezone.localtime(event.at):%-d %b %Y, %H:%M}: {undoing.in_words(event)}, {event.actor}"


@who_may("correct name")
@require_http_methods(["GET", "HEAD", "POST"])
def correct_name(request, code):
    """Somebody was signed in as another when it was recorded."""
    piece, back = component_or_404(code), reverse("tag", args=[code])

    def do(entered):
        event, person = entered["event"], entered["person"]
        writers.correct_name(event, person, request.user, reason=entered["reason"])
        return f"The history shows it as done by {person}.", back

    crumbs = [{"href": back, "label": f"{piece.name} {code}"}]
    form = NameForm(sent(request), piece=piece)
    return ask(request, form, do, heading="Correct a name", button="Correct the name", back=back, crumbs=crumbs)


def numbers_or_404(request) -> list[int]:
    acts = request.POST.get("acts", "").split()[:MOST]
    if not acts or not all(number.isascii() and number.isdecimal() and len(number) < 19 for number in acts):
        raise Http404("Nothing to undo was named.")
    return [int(number) for number in acts]


def undo_each(acts: list[int], actor) -> tuple[list[str], list[Refusal]]:
    """The latest first: what was done to one piece in two steps is undone in two."""
    done: list[str] = []
    refusals: list[Refusal] = []
    for act in sorted(acts, reverse=True):
        try:
            done += undoing.undo(act, actor)
        except Refused as refused:
            refusals += refused.refusals
    return list(dict.fromkeys(done)), list(dict.fromkeys(refusals))


def show(request, *, refusals=()):
    page = {
        "page": "Undo what you just did",
        "acts": latest(request.user),
        "refusals": refusals,
        "earlier": earlier(request.user),
        "may_correct": may(request.user.role_names, "correct"),
    }
    return render(request, "parts/undoing/undo.html", page, status=status_of(refusals))
