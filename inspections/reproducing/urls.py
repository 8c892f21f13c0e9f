"""Addresses of this room, sorted."""

from django.urls import path

from .views import nothing_to_reproduce, reproduce, set_taken_size

urlpatterns = [
    path("sizes-taken/<int:pk>/set", set_taken_size, name="set_taken_size"),
    path("t/<str:code>/reproduce", reproduce, name="reproduce"),
    path("t/<str:code>/reproduce/none", nothing_to_reproduce, name="nothing_to_reproduce"),
]
