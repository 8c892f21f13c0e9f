"""Addresses of this room, sorted."""

from django.urls import path

from .views import crack_check

urlpatterns = [
    path("t/<str:code>/crack-check", crack_check, name="crack_check"),
]
