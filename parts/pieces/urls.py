"""Addresses of this room, sorted."""

from django.urls import path

from .views.act import act
from .views.bulk import bulk
from .views.tag import tag, type_code
from .views.why import why

urlpatterns = [
    path("T/<str:code>", tag, name="tag_in_capitals"),
    path("pieces/bulk/", bulk, name="bulk"),
    path("t/<str:code>", tag, name="tag"),
    path("t/<str:code>/do/<slug:slug>", act, name="do"),
    path("t/<str:code>/why", why, name="why"),
    path("tag/", type_code, name="type-code"),
]
