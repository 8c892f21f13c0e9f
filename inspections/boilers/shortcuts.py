"""What views of boilers share: finding one, a form about it, and the way back to it."""

from django.http import Http404
from django.urls import reverse

from parts.common.confirm_form import ask
from parts.domain.plain import capital

from ..domain.boiler_words import CAUTION
from ..models import Boiler


def boiler_or_404(pk: int) -> Boiler:
    try:
        return Boiler.objects.select_related("locomotive").get(pk=pk)
    except Boiler.DoesNotExist:
        raise Http404("No such boiler.") from None


def crumbs(boiler: Boiler, *more: tuple[str, str]) -> list[dict]:
    way = ((reverse("boilers"), "Boilers"), (boiler.get_absolute_url(), capital(str(boiler))), *more)
    return [{"href": href, "label": label} for href, label in way]


def ask_of_boiler(boiler: Boiler, request, form, do, heading: str, button: str):
    """A small form that leads back to the boiler."""
    page = {"crumbs": crumbs(boiler), "cautions": [CAUTION]}
    return ask(request, form, do, heading=heading, button=button, back=boiler.get_absolute_url(), **page)
