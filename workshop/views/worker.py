"""The service worker, served from the top so that it answers for every page."""

from pathlib import Path

from django.conf import settings
from django.http import HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from workshop.access import anyone

SCRIPT = Path(settings.ROOT) / "static" / "js" / "sw.js"


@anyone
@never_cache
@require_safe
def worker(request):
    return HttpResponse(SCRIPT.read_bytes(), content_type="text/javascript; charset=utf-8")
