"""Addresses of this room, sorted."""

from django.urls import path

from .views import more, words

urlpatterns = [
    path("more/", more, name="more"),
    path("words/", words, name="words"),
]
