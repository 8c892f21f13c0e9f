"""A page that would be the same again is answered with 304 and nothing else, from one tiny query.

What the readiness pages show rests on the log (nothing changes without an event, nobody's roles either), on the day,
and on who looks. So the number of the newest event, the day and the person name a page; the browser keeps its copy, and
asks before it shows it.
"""

import time

from django.contrib.messages import get_messages
from django.db import connection
from django.utils.cache import patch_cache_control
from django.views.decorators.http import condition

from core.models import Event

from ..actions import writing

STARTED = f"{time.time():.0f}"
"""A server started anew may be a newer one, whose templates differ."""


def unless_changed(view):
    """Answer 304 while nothing has happened since the browser's copy was made. Stands below the access decorator."""

    @condition(etag_func=_name)
    def asked(request, *args, **kwargs):
        answer = view(request, *args, **kwargs)
        patch_cache_control(answer, private=True, no_cache=True)
        return answer

    return asked


def _name(request, *args, **kwargs) -> str | None:
    """None, and so the whole page, where a message waits to be shown, or numbers do not tell what came last."""
    if not numbers_tell() or len(get_messages(request)):
        return None
    newest = Event.objects.order_by("-id").values_list("id", flat=True).first() or 0
    return f'"{newest}-{writing.today():%Y%m%d}-{request.user.pk}-{request.session.get("show", "")}-{STARTED}"'


def numbers_tell() -> bool:
    """On PostgreSQL an event may be committed after one with a higher number; SQLite writes one after the other."""
    return connection.vendor == "sqlite"
