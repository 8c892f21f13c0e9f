"""Addresses of this room, sorted."""

from django.urls import path

from .views import import_list, undo_list

urlpatterns = [
    path("l/<slug:slug>/import/", import_list, name="import_register"),
    path("l/<slug:slug>/import/<int:pk>/undo", undo_list, name="undo_import"),
]
