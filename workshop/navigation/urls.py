"""Addresses of this room, sorted."""

from django.urls import path

from .views import more

urlpatterns = [
    path("more/", more, name="more"),
]
