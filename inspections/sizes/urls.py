"""Addresses of this room, sorted."""

from django.urls import path

from .views import add_size, copy_sizes, edit_size, new_limits, retire_size, size, sizes

urlpatterns = [
    path("p/<int:pk>/sizes/", sizes, name="sizes"),
    path("p/<int:pk>/sizes/add", add_size, name="add_size"),
    path("p/<int:pk>/sizes/copy", copy_sizes, name="copy_sizes"),
    path("sizes/<int:pk>/", size, name="size"),
    path("sizes/<int:pk>/edit", edit_size, name="edit_size"),
    path("sizes/<int:pk>/limits", new_limits, name="new_limits"),
    path("sizes/<int:pk>/retire", retire_size, name="retire_size"),
]
