"""Addresses of this room, sorted."""

from django.urls import path

from .views import home, meeting, show

urlpatterns = [
    path("", home, name="home"),
    path("l/<slug:slug>/meeting/", meeting, name="meeting"),
    path("show/", show, name="show"),
]
