"""Addresses of this room, sorted."""

from django.urls import path

from .views.choose_place import choose_place
from .views.describe import describe
from .views.replacing import replaces
from .views.split import split
from .views.strip import start_on, strip
from .views.tie import tie_tag

urlpatterns = [
    path("p/<int:pk>/new-piece", start_on, name="start_on"),
    path("strip/", strip, name="strip"),
    path("t/<str:code>/describe", describe, name="describe"),
    path("t/<str:code>/place", choose_place, name="choose_place"),
    path("t/<str:code>/replaces", replaces, name="replaces"),
    path("t/<str:code>/split", split, name="split"),
    path("t/<str:code>/tie", tie_tag, name="tie"),
]
