"""Addresses of this room, sorted."""

from django.urls import path

from .views.find import find, first_answers
from .views.saved_filters import drop_filter, keep_filter

urlpatterns = [
    path("find/", find, name="find"),
    path("find/<int:pk>/delete", drop_filter, name="drop_filter"),
    path("find/first", first_answers, name="first_answers"),
    path("find/keep", keep_filter, name="keep_filter"),
]
