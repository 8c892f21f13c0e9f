"""A page that would be the same again is answered with 304 and nothing else, from one tiny query.

What the readiness pages show rests on the log (nothing changes without an event, nobody's roles either), on the day,
and on who looks. So the number of the newest event, the day and the person name a page; the browser keeps its copy, and
asks before it shows it. These pages also say which locomotive somebody looked at last, so only a page of that one is
ever the same again: a 304 has nothing left to remember.
"""

import time
from functools import wraps
from http import HTTPStatus

from django.contrib.messages import get_messages
from django.db import connection
from django.utils.cache import patch_cache_control
from django.views.decorators.http import condition

from core.models import Event

from ..actions import writing

STARTED = f"{time.time():.0f}"
"""A server started anew may be a newer one, whose templates differ."""

LOOKED_AT = "locomotive"
"""Where the session keeps which locomotive this person looked at last: the Next page opens on it."""


def unless_changed(view):
    """Answer 304 while nothing has happened since the browser's copy was made. Stands below the access decorator."""

    @condition(etag_func=_name)
    def made(request, *args, **kwargs):
        answer = view(request, *args, **kwargs)
        patch_cache_control(answer, private=True, no_cache=True)
        return answer

    @wraps(view)
    def asked(request, slug, *args, **kwargs):
        seen = request.session.get(LOOKED_AT) == slug
        if not seen:
            request.META.pop("HTTP_IF_NONE_MATCH", None)  # whole, since there is something to remember
        answer = made(request, slug, *args, **kwargs)
        if not seen and answer.status_code == HTTPStatus.OK:
            request.session[LOOKED_AT] = slug
        return answer

    return asked


def _name(request, *args, **kwargs) -> str | None:
    """None, and so the whole page, where a message waits to be shown, or numbers do not tell what came last."""
    if not numbers_tell() or len(get_messages(request)):
        return None
    newest = Event.objects.newest_number()
    return f'"{newest}-{writing.today():%Y%m%d}-{request.user.pk}-{request.user.lists}-{STARTED}"'


def numbers_tell() -> bool:
    """On PostgreSQL an event may be committed after one with a higher number; SQLite writes one after the other."""
    return connection.vendor == "sqlite"
