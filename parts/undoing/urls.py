"""Addresses of this room."""

from django.urls import path

from .views import undo

urlpatterns = [path("undo/", undo, name="undo")]
