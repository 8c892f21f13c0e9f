"""Addresses of this room, sorted."""

from django.urls import path

from .views import waiting, who, worker

urlpatterns = [
    path("sw.js", worker, name="worker"),
    path("waiting/", waiting, name="waiting"),
    path("waiting/who", who, name="who"),
]
