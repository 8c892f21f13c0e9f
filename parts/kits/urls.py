"""Addresses of this room, sorted."""

from django.urls import path

from .views import begin_kit, end_kit, kit, kits, miss_piece, put_back, take_piece

urlpatterns = [
    path("kits/", kits, name="kits"),
    path("kits/<int:pk>/", kit, name="kit"),
    path("kits/<int:pk>/end", end_kit, name="end_kit"),
    path("kits/<int:pk>/miss", miss_piece, name="miss_piece"),
    path("kits/<int:pk>/put-back", put_back, name="put_back"),
    path("kits/<int:pk>/take", take_piece, name="take_piece"),
    path("l/<slug:slug>/s/<slug:code>/kit", begin_kit, name="begin_kit"),
]
