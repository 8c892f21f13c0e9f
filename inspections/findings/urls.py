"""Addresses of this room, sorted."""

from django.urls import path

from .views import decide

urlpatterns = [
    path("examinations/<int:pk>/decide", decide, name="decide"),
]
