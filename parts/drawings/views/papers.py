"""A paper as it came: a scan of a drawing, a certificate, a letter."""

from django.http import FileResponse, Http404
from django.views.decorators.http import require_safe

from core.access import signed_in
from parts.models import Paper

from ..writers.papers import storage, stored_name

TYPES = {".pdf": "application/pdf", ".jpg": "image/jpeg", ".png": "image/png", ".tif": "image/tiff"}


@require_safe
@signed_in
def paper(request, name):
    found = _paper_or_404(name)
    try:
        file = storage().open(stored_name(found))
    except FileNotFoundError:
        raise Http404("The file of this paper is missing; it may be in a backup.") from None
    answer = FileResponse(file, content_type=TYPES[found.suffix], filename=f"{found.title[:80]}{found.suffix}")
    answer["Content-Security-Policy"] = "sandbox; default-src 'none'"  # whatever is in it, it runs nothing of ours
    answer["X-Content-Type-Options"] = "nosniff"
    return answer


def _paper_or_404(name: str) -> Paper:
    try:
        return Paper.objects.get(name=name)
    except Paper.DoesNotExist:
        raise Http404("No such paper.") from None
