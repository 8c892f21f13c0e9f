"""What views of boilers share: finding one, and the way back to it."""

from django.http import Http404
from django.urls import reverse

from parts.domain.plain import capital

from ..models import Boiler


def boiler_or_404(pk: int) -> Boiler:
    try:
        return Boiler.objects.select_related("locomotive").get(pk=pk)
    except Boiler.DoesNotExist:
        raise Http404("No such boiler.") from None


def crumbs(boiler: Boiler, *more: tuple[str, str]) -> list[dict]:
    way = ((reverse("boilers"), "Boilers"), (boiler.get_absolute_url(), capital(str(boiler))), *more)
    return [{"href": href, "label": label} for href, label in way]
