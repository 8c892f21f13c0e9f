"""Addresses of this room, sorted."""

from django.urls import path

from .views.drawings import (
    add_drawing,
    add_scan,
    drawing,
    drawings,
    edit_drawing,
    good_for,
    not_good_for,
    note_conflict,
    settle_conflict,
    show_place,
    show_place_not,
)
from .views.papers import paper

urlpatterns = [
    path("conflicts/<int:pk>/settle", settle_conflict, name="settle_conflict"),
    path("drawings/", drawings, name="drawings"),
    path("drawings/<int:pk>/", drawing, name="drawing"),
    path("drawings/<int:pk>/edit", edit_drawing, name="edit_drawing"),
    path("drawings/<int:pk>/good-for", good_for, name="drawing_good_for"),
    path("drawings/<int:pk>/good-for/<int:number>/out", not_good_for, name="not_good_for"),
    path("drawings/<int:pk>/scan", add_scan, name="add_scan"),
    path("drawings/<int:pk>/shows-not/<int:position>", show_place_not, name="show_place_not"),
    path("drawings/new", add_drawing, name="add_drawing"),
    path("p/<int:pk>/conflict", note_conflict, name="note_conflict"),
    path("p/<int:pk>/drawing", show_place, name="show_place"),
    path("paper/<slug:name>", paper, name="paper"),
]
