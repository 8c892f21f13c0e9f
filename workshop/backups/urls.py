"""Addresses of this room, sorted."""

from django.urls import path

from .views import backups

urlpatterns = [path("backups/", backups, name="backups")]
