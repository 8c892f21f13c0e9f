"""Photos that come with another form: a bad one is told, and undoes nothing of what the form did."""

from django.contrib import messages

from core.domain.refusals import Refused

from . import writers


def keep_photos(request, thing, caption: str = "") -> bool:
    """Keep the photos sent in `photo`; whether any was kept."""
    files = request.FILES.getlist("photo")
    if not files:
        return False
    try:
        added = writers.add(files, thing, request.user, caption=caption)
    except Refused as refused:
        added = writers.Added(refusals=list(refused.refusals))
    for refusal in added.refusals:
        messages.warning(request, f"{refusal.sentence} {refusal.cure}".strip())
    return bool(added.photos)
