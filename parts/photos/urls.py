"""Addresses of this room, sorted."""

from django.urls import path

from .mending_views import put_right, take_out, turn
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
    path("photo/<slug:name>/out", take_out, name="take_photo_out"),
    path("photo/<slug:name>/right", put_right, name="put_photo_right"),
    path("photo/<slug:name>/turn", turn, name="turn_photo"),
    path("t/<str:code>/photos", photos, name="photos"),
    path("where/<int:pk>/photos", location_photos, name="location_photos"),
]
