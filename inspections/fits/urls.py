"""Addresses of this room, sorted."""

from django.urls import path

from .views import add_fit, fit, fit_limits, fits, locomotive_fits, propose_fits, retire_fit

urlpatterns = [
    path("fits/", fits, name="fits"),
    path("fits/<int:pk>/", fit, name="fit"),
    path("fits/<int:pk>/limits", fit_limits, name="fit_limits"),
    path("fits/<int:pk>/retire", retire_fit, name="retire_fit"),
    path("l/<slug:slug>/fits/", locomotive_fits, name="locomotive_fits"),
    path("l/<slug:slug>/fits/add", add_fit, name="add_fit"),
    path("l/<slug:slug>/fits/propose", propose_fits, name="propose_fits"),
]
