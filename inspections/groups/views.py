"""Accepting ordinary pieces in a group, what a group was, and who may sign one."""

from datetime import date

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import needs_signature, signed_in, who_may
from core.models import Authorisation, Event
from parts.actions import writing
from parts.common.shortcuts import refusals_on, status_in
from parts.domain.grouping import AUTHORISED
from parts.domain.plain import several
from parts.pieces.selection import chosen, offer

from . import writers
from .forms import GroupForm, GroupRight
from .offered import offered, signed


@sensitive_post_parameters("signature")
@who_may("sign group")
@require_http_methods(["GET", "HEAD", "POST"])
def accept_group(request):
    """Pieces of a crate, a subassembly or a search, each ticked by whoever looked at it, and one signature below."""
    shown = offer(request.GET)
    if shown is None:
        raise Http404("There is no such crate or subassembly.")
    form = GroupForm(request.POST if request.method == "POST" else None)
    needs_signature(request, form)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            group = writers.accept_group(chosen(request.POST), request.user, form.given())
            messages.success(request, f"{several(len(group.data['pieces']), 'piece')} accepted in one group.")
            return redirect("group", group.pk)
    page = {
        "page": f"Accept in a group: {shown.heading}",
        "offer": shown,
        "offered": offered(shown, request.user),
        "ticked": set(request.POST.values()),
        "form": form,
    }
    return render(request, "inspections/groups/accept_group.html", page, status=status_in(form))


@signed_in
@require_safe
def group(request, pk):
    event = get_object_or_404(Event.objects.select_related("actor"), pk=pk, action="sign group")
    again = event.data["look_again"]
    page = {
        "page": f"Group {pk}",
        "group": signed(event),
        "look_again": date.fromisoformat(again) if again else None,
    }
    return render(request, "inspections/groups/group.html", page)


@who_may("authorise for groups")
@require_http_methods(["GET", "HEAD", "POST"])
def group_people(request):
    form = GroupRight(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            made = writers.authorise(form.cleaned_data["person"], request.user, form.cleaned_data["until"])
            messages.success(request, f"{made.person} may accept ordinary pieces in groups.")
            return redirect("group_people")
    page = {
        "page": "Who accepts in groups",
        "form": form,
        "rights": Authorisation.objects.filter(kind=AUTHORISED).select_related("person").order_by("person__first_name"),
        "today": writing.today(),
    }
    return render(request, "inspections/groups/people.html", page, status=status_in(form))


@who_may("authorise for groups")
@require_POST
def end_group_right(request, pk):
    right = get_object_or_404(Authorisation.objects.select_related("person"), pk=pk, kind=AUTHORISED)
    writers.end(right, request.user)
    messages.success(request, f"{right.person} accepts no more pieces in groups.")
    return redirect("group_people")
