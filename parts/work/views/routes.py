"""The routes to a new piece: those supplied, as they were edited here, and our own."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from parts.common.confirm_form import ask, sent
from parts.common.small_forms import with_seen
from parts.domain.routes import supplied, written

from ..forms.jobs import RouteForm
from ..writers import routes as writers


@signed_in
@require_safe
def routes(request):
    page = {
        "page": "Routes to a new piece",
        "routes": writers.offered().values(),
        "may_renew": may(request.user.role_names, "renew"),
    }
    return render(request, "parts/work/routes.html", page)


@who_may("renew")
@require_http_methods(["GET", "HEAD", "POST"])
def add_route(request):
    form = RouteForm(sent(request))

    def do(entered):
        writers.save_route(request.user, **entered)
        return "The route is offered from now on.", reverse("routes")

    return ask(request, form, do, heading="A route of our own", button="Save", back=reverse("routes"))


@who_may("renew")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_route(request, key):
    route = route_or_404(key)
    edits = writers.edits_of(key)
    start = {"name": route.name, "says": route.says, "steps": written(route.steps)}
    form = with_seen(RouteForm(sent(request), initial=start), edits)

    def do(entered):
        writers.save_route(request.user, key=key, **entered)
        return "Kept. Renewals that are under way keep the steps they have.", reverse("routes")

    heading, back = f"Edit the route: {route.name}", reverse("routes")
    return ask(request, form, do, heading=heading, button="Save", back=back)


@who_may("renew")
@require_POST
def retire_route(request, key):
    route = route_or_404(key)
    if key in supplied() and "supplied" in request.POST:
        writers.as_supplied(key, request.user)
        messages.success(request, f"“{route.name}” is again as it is supplied.")
    else:
        writers.retire_route(key, request.user)
        messages.success(request, f"“{route.name}” is off the list.")
    return redirect("routes")


def route_or_404(key):
    found = writers.offered().get(key)
    if found is None:
        raise Http404("No such route is offered.")
    return found
