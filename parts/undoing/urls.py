"""Addresses of this room."""

from django.urls import path

from .views import correct, undo

urlpatterns = [
    path("t/<str:code>/correct", correct, name="correct"),
    path("undo/", undo, name="undo"),
]
