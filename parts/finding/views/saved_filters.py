"""Keeping a filter of the find page under a name, and deleting it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from core.access import signed_in
from core.domain.refusals import Refused
from parts.actions import writing
from parts.common.shortcuts import status_of
from parts.models import SavedFilter

from ..filtering import Filters
from ..writers import delete_filter, save_filter
from .find import find_page


@signed_in
@require_POST
def keep_filter(request):
    """The address carries the filters, as it does on the page that the form stands on."""
    filters, entered = Filters.read(request.GET, writing.today()), request.POST.get("name", "").replace("\0", "")
    try:
        saved = save_filter(request.user, name=entered, query=filters.query, shared=bool(request.POST.get("shared")))
    except Refused as refused:
        page = find_page(request, filters) | {"refusals": refused.refusals, "named": entered}
        return render(request, "parts/finding/find.html", page, status=status_of(refused.refusals))
    messages.success(request, f"Kept as “{saved.name}”. It stands on the find page and on the first page.")
    return redirect(f"{reverse('find')}?{saved.query}")


@signed_in
@require_POST
def drop_filter(request, pk):
    saved = SavedFilter.objects.offered_to(request.user).by_number(pk)
    if saved is None:
        raise Http404("There is no such filter.")
    try:
        delete_filter(saved, request.user)
    except Refused as refused:
        filters = Filters.read({}, writing.today())
        page = find_page(request, filters) | {"refusals": refused.refusals}
        return render(request, "parts/finding/find.html", page, status=status_of(refused.refusals))
    messages.success(request, f"“{saved.name}” is deleted.")
    return redirect("find")
