"""Addresses of this room, sorted."""

from django.urls import path

from .views.labels import labels, labels_picture

urlpatterns = [
    path("labels/", labels, name="labels"),
    path("labels/picture.png", labels_picture, name="labels_picture"),
]
