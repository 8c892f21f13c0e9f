"""Addresses of this room, sorted."""

from django.urls import path

from .views.locations import (
    add_location,
    carry,
    edit_location,
    give_tag,
    location,
    locations,
    put_here,
    retire_location,
    use_location_again,
)
from .views.move import keep_here, move

urlpatterns = [
    path("t/<str:code>/move", move, name="move"),
    path("t/<str:code>/normal-place", keep_here, name="keep_here"),
    path("where/", locations, name="locations"),
    path("where/<int:pk>/", location, name="location"),
    path("where/<int:pk>/edit", edit_location, name="edit_location"),
    path("where/<int:pk>/move", carry, name="carry"),
    path("where/<int:pk>/put", put_here, name="put_here"),
    path("where/<int:pk>/retire", retire_location, name="retire_location"),
    path("where/<int:pk>/tag", give_tag, name="give_tag"),
    path("where/<int:pk>/use-again", use_location_again, name="use_location_again"),
    path("where/add", add_location, name="add_location"),
]
