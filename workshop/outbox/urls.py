"""Addresses of this room, sorted."""

from django.urls import path

from .views import no_network, waiting, who, worker

urlpatterns = [
    path("sw.js", worker, name="worker"),
    path("waiting/", waiting, name="waiting"),
    path("waiting/no-network", no_network, name="no_network"),
    path("waiting/who", who, name="who"),
]
