"""Addresses of this room, sorted."""

from django.urls import path

from .views.concede import concede
from .views.concede_fit import concede_fit

urlpatterns = [
    path("fits/<int:pk>/concede", concede_fit, name="concede_fit"),
    path("measurements/<int:pk>/concede", concede, name="concede"),
]
