"""All addresses: signing in here, the rest with the app it belongs to."""

from django.urls import include, path

urlpatterns = [
    path("", include("inspections.urls")),
    path("", include("parts.urls")),
]
