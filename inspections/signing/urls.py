"""Addresses of this room, sorted."""

from django.urls import path

from .views import sign_record

urlpatterns = [
    path("t/<str:code>/sign/<slug:slug>", sign_record, name="sign_record"),
]
