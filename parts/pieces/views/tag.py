"""Tags: what a scan or a typed code opens. The phone's own camera opens the printed address; /tag/ is for typing."""

from django.contrib import messages
from django.http import HttpResponsePermanentRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.domain.near_codes import near_codes
from parts.domain.tagcodes import TagError, check, grouped
from parts.entering.views.strip import is_stripping
from parts.models import Tag

from .piece import piece


@require_safe
@signed_in
def tag(request, code):
    """What a scan opens: a piece, a place where things lie, a tag not used yet, or help with a code that is none."""
    try:
        right = check(code)
    except TagError as trouble:
        return not_there(request, code, str(trouble))
    if right != code or not request.path.startswith("/t/"):
        return HttpResponsePermanentRedirect(reverse("tag", args=[right]))
    found = Tag.objects.of_code(right)
    if found is None:
        return not_there(request, code, f"No tag {grouped(right)} was ever printed here.")
    if found.location_id:
        return redirect(found.location)
    if found.pattern_id:
        return redirect(found.pattern)
    if found.component_id is None:
        if is_stripping(request) and may(request.user.role_names, "strip"):
            return redirect(f"{reverse('strip')}?code={found.code}")  # the next piece is one scan
        return render(request, "parts/pieces/tag.html", unused_page(request, found))
    if not found.current and (current := Tag.objects.borne_now_by(found)):
        messages.info(request, f"Tag {grouped(found.code)} was replaced by {grouped(current.code)}.")
        return redirect("tag", current.code)
    return piece(request, found)


@require_safe
@signed_in
def type_code(request):
    """/tag/: the box for a code that the camera cannot read any more."""
    code = request.GET.get("code", "").strip()
    if not code:
        return render(request, "parts/pieces/tag.html", {"page": "Type a tag", "typed": ""})
    try:
        right = check(code)
    except TagError as trouble:
        return not_there(request, code, str(trouble))
    return redirect("tag", right)


def not_there(request, typed: str, trouble: str):
    """Not a tag of ours: what is wrong with it, the codes it may have been meant as, and the box to type it again."""
    meant = Tag.objects.tied_among(near_codes(typed))
    seen = {"page": "No such tag", "typed": typed[:40], "trouble": trouble, "meant": meant}
    return render(request, "parts/pieces/tag.html", seen, status=404)


def unused_page(request, found: Tag) -> dict:
    roles = request.user.role_names
    return {
        "page": f"Tag {grouped(found.code)}, not used yet",
        "unused": found,
        "may_strip": may(roles, "strip"),
        "may_tie": may(roles, "tie tag"),
        "may_enter": may(roles, "edit patterns"),
    }
