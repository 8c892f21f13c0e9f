"""Addresses of this room, sorted."""

from django.urls import path

from .views import (
    begin_kit,
    begin_kit_for_place,
    begin_kit_of_chosen,
    end_kit,
    kit,
    kits,
    miss_piece,
    put_back,
    take_piece,
)

urlpatterns = [
    path("kits/", kits, name="kits"),
    path("kits/begin", begin_kit_of_chosen, name="begin_kit_of_chosen"),
    path("kits/<int:pk>/", kit, name="kit"),
    path("kits/<int:pk>/end", end_kit, name="end_kit"),
    path("kits/<int:pk>/miss", miss_piece, name="miss_piece"),
    path("kits/<int:pk>/put-back", put_back, name="put_back"),
    path("kits/<int:pk>/take", take_piece, name="take_piece"),
    path("l/<slug:slug>/s/<slug:code>/kit", begin_kit, name="begin_kit"),
    path("p/<int:pk>/kit", begin_kit_for_place, name="begin_kit_for_place"),
]
