"""Addresses of this room, sorted."""

from django.urls import path

from .views import (
    add_hold,
    add_holds,
    ask_release,
    edit_hold,
    hold,
    holds,
    lift_stop,
    release_hold,
    stop_piece,
    stop_place,
    strike_release,
)

urlpatterns = [
    path("holds/<int:pk>/", hold, name="hold"),
    path("holds/<int:pk>/ask", ask_release, name="ask_release"),
    path("holds/<int:pk>/edit", edit_hold, name="edit_hold"),
    path("holds/<int:pk>/lift", lift_stop, name="lift_stop"),
    path("holds/<int:pk>/release", release_hold, name="release_hold"),
    path("holds/<int:pk>/strike", strike_release, name="strike_release"),
    path("l/<slug:slug>/holds/", holds, name="holds"),
    path("l/<slug:slug>/holds/add", add_hold, name="add_hold"),
    path("l/<slug:slug>/holds/add/<slug:key>", add_holds, name="add_holds"),
    path("p/<int:pk>/stop", stop_place, name="stop_place"),
    path("t/<str:code>/stop", stop_piece, name="stop_piece"),
]
