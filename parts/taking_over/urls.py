"""Addresses of this room, sorted."""

from django.urls import path

from .views import import_list

urlpatterns = [
    path("l/<slug:slug>/import/", import_list, name="import_register"),
]
