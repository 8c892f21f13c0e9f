"""The shared tablets, listed for the office: this device becomes one, or one is taken off the list."""

from django.conf import settings
from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from core.access import who_may
from core.accounts import devices
from core.models import Tablet
from parts.common.shortcuts import refusals_on, status_in

from ..forms import TabletForm


@who_may("share device")
@require_http_methods(["GET", "HEAD", "POST"])
def tablets(request):
    form = TabletForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            tablet, token = devices.share(request, form.cleaned_data["name"])
            messages.success(
                request, f"This device is “{tablet}” now, for everybody. Hand it over: Switch is at the top."
            )
            answer = redirect("tablets")
            devices.keep_cookie(answer, token)
            return answer
    page = {
        "page": "Shared tablets",
        "tablets": Tablet.objects.listed(),
        "this": devices.tablet_of(request),
        "browser": devices.browser_of(request),
        "form": form,
    }
    return render(request, "workshop/accounts/tablets.html", page, status=status_in(form))


@who_may("share device")
@require_POST
def remove_tablet(request, pk):
    tablet = Tablet.objects.listed().by_number(pk)
    if tablet is None:
        raise Http404("No such tablet: perhaps it was removed already.")
    here = devices.tablet_of(request) == tablet
    devices.unshare(tablet, request.user)
    messages.success(request, f"{tablet} is shared no longer, and nobody is signed in on it.")
    answer = redirect("sign-in" if here else "tablets")
    if here:
        answer.delete_cookie(settings.TABLET_COOKIE_NAME, samesite="Lax")
    return answer
