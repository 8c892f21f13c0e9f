"""Addresses of this room, sorted."""

from django.urls import path

from .views import (
    location_photos,
    pattern_photos,
    photo,
    photo_page,
    photos,
    position_photos,
    subassembly_photos,
)

urlpatterns = [
    path("l/<slug:slug>/s/<slug:code>/photos", subassembly_photos, name="subassembly_photos"),
    path("p/<int:pk>/photos", position_photos, name="position_photos"),
    path("patterns/<int:pk>/photos", pattern_photos, name="pattern_photos"),
    path("photo/<slug:name>/", photo_page, name="photo_page"),
    path("photo/<slug:name>/<slug:size>.jpg", photo, name="photo"),
    path("t/<str:code>/photos", photos, name="photos"),
    path("where/<int:pk>/photos", location_photos, name="location_photos"),
]
