"""Addresses of this room, sorted."""

from django.urls import path

from .views import add_instrument, calibrate, edit_instrument, instrument, instruments, put_out_of_use

urlpatterns = [
    path("instruments/", instruments, name="instruments"),
    path("instruments/<int:pk>/", instrument, name="instrument"),
    path("instruments/<int:pk>/calibrate", calibrate, name="calibrate"),
    path("instruments/<int:pk>/edit", edit_instrument, name="edit_instrument"),
    path("instruments/<int:pk>/out-of-use", put_out_of_use, name="put_out_of_use"),
    path("instruments/add", add_instrument, name="add_instrument"),
]
