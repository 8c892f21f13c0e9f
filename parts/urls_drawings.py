"""Addresses of the register of drawings, sorted by address."""

from django.urls import path

from .views import drawings as views

urlpatterns = [
    path("conflicts/<int:pk>/settle", views.settle_conflict, name="settle_conflict"),
    path("drawings/", views.drawings, name="drawings"),
    path("drawings/new", views.add_drawing, name="add_drawing"),
    path("drawings/<int:pk>/", views.drawing, name="drawing"),
    path("drawings/<int:pk>/edit", views.edit_drawing, name="edit_drawing"),
    path("drawings/<int:pk>/good-for", views.good_for, name="drawing_good_for"),
    path("drawings/<int:pk>/good-for/<int:number>/out", views.not_good_for, name="not_good_for"),
    path("drawings/<int:pk>/scan", views.add_scan, name="add_scan"),
    path("drawings/<int:pk>/shows-not/<int:position>", views.show_place_not, name="show_place_not"),
    path("p/<int:pk>/conflict", views.note_conflict, name="note_conflict"),
    path("p/<int:pk>/drawing", views.show_place, name="show_place"),
]
