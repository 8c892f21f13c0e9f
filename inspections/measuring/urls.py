"""Addresses of this room, sorted."""

from django.urls import path

from .views import measure, thickness, try_measure, try_thickness

urlpatterns = [
    path("t/<str:code>/measure", measure, name="measure"),
    path("t/<str:code>/measure/try", try_measure, name="try_measure"),
    path("t/<str:code>/thickness", thickness, name="thickness"),
    path("t/<str:code>/thickness/try", try_thickness, name="try_thickness"),
]
