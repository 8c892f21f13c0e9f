"""What every page's frame shows: where one can go, and who is signed in with which roles."""

from django.conf import settings

from . import devices

NAV = (
    ("/find/", "i-find", "Find"),
    ("/scan/", "i-scan", "Scan"),
    ("/next/", "i-next", "Next"),
    ("/locomotives/", "i-locomotive", "Locomotives"),
    ("/more/", "i-more", "More"),
)


def frame(request):
    user = getattr(request, "user", None)
    if user is None or not user.is_authenticated:
        return {}
    return {
        "nav": [
            {"href": href, "icon": icon, "label": label, "current": request.path.startswith(href)}
            for href, icon, label in NAV
        ],
        "is_demo": settings.DEMO,
        "shared_tablet": devices.tablet_of(request),
        "role_words": ", ".join(sorted(user.role_names)),
    }
