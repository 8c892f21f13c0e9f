"""Addresses of this room, sorted."""

from django.urls import path

from .views import home, meeting, over_time, show

urlpatterns = [
    path("", home, name="home"),
    path("l/<slug:slug>/meeting/", meeting, name="meeting"),
    path("l/<slug:slug>/over-time/", over_time, name="over_time"),
    path("show/", show, name="show"),
]
