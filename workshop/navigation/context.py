"""What every page's frame shows: where one can go, who is signed in with which roles, and which version this is."""

from django.conf import settings
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from core import __version__
from core.accounts import devices
from core.domain.catalogue import may
from core.web.rooms import BAR, YOU, nav_links
from parts.readiness.whose import shown
from workshop.backups.copies import overdue

from .help import help_line


def frame(request):
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return {"version": __version__}
    return {
        "version": __version__,
        "nav": [
            {"href": href, "icon": link.icon, "label": link.label, "current": request.path.startswith(href)}
            for link in nav_links(BAR)
            for href in [reverse(link.to)]
        ],
        "own_pages": [
            {"href": reverse(link.to), "label": link.label}
            for link in nav_links(YOU)
            if not link.may or may(user.role_names, link.may)
        ],
        "lists_shown": shown(request),
        "help_line": help_line(request),
        "is_demo": settings.DEMO,
        "moved_to": settings.ADDRESS if settings.HTTPS and not request.is_secure() else "",
        "shared_tablet": devices.tablet_of(request),
        "copy_overdue": SimpleLazyObject(overdue) if may(user.role_names, "look after backups") else "",
        "role_words": ", ".join(sorted(user.role_names)),
        "gives_roles": may(user.role_names, "edit people"),
    }
