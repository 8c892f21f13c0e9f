"""Addresses of this room."""

from django.urls import path

from .views import correct, correct_name, undo

urlpatterns = [
    path("t/<str:code>/correct", correct, name="correct"),
    path("t/<str:code>/whose", correct_name, name="correct_name"),
    path("undo/", undo, name="undo"),
]
