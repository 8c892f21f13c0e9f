"""Addresses of this room."""

from django.urls import path

from .views import history

urlpatterns = [path("history/<slug:kind>/<int:pk>/", history, name="history")]
