"""Addresses of this room, sorted."""

from django.urls import path

from .views import home, show

urlpatterns = [
    path("", home, name="home"),
    path("show/", show, name="show"),
]
