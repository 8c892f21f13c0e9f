"""Addresses of this room, sorted."""

from django.urls import path

from .views.contractions import add_contraction, add_density, contractions, strike_contraction, strike_density
from .views.pattern_sums import pattern_sums, pattern_sums_of
from .views.patterns import (
    add_casting,
    add_pattern,
    edit_pattern,
    move_pattern,
    pattern,
    pattern_places,
    pattern_state,
    patterns,
    promise_pattern,
    remove_casting,
    tie_pattern,
)

urlpatterns = [
    path("patterns/", patterns, name="patterns"),
    path("patterns/<int:pk>/", pattern, name="pattern"),
    path("patterns/<int:pk>/castings", add_casting, name="add_casting"),
    path("patterns/<int:pk>/edit", edit_pattern, name="edit_pattern"),
    path("patterns/<int:pk>/move", move_pattern, name="move_pattern"),
    path("patterns/<int:pk>/places", pattern_places, name="pattern_places"),
    path("patterns/<int:pk>/promise", promise_pattern, name="promise_pattern"),
    path("patterns/<int:pk>/sums", pattern_sums_of, name="pattern_sums_of"),
    path("patterns/<int:pk>/tie", tie_pattern, name="tie_pattern"),
    path("patterns/<int:pk>/to/<slug:slug>", pattern_state, name="pattern_state"),
    path("patterns/add", add_pattern, name="add_pattern"),
    path("patterns/castings/<int:pk>/remove", remove_casting, name="remove_casting"),
    path("patterns/contractions/", contractions, name="contractions"),
    path("patterns/contractions/<int:pk>/better", add_contraction, name="better_contraction"),
    path("patterns/contractions/<int:pk>/strike", strike_contraction, name="strike_contraction"),
    path("patterns/contractions/add", add_contraction, name="add_contraction"),
    path("patterns/densities/<int:pk>/better", add_density, name="better_density"),
    path("patterns/densities/<int:pk>/strike", strike_density, name="strike_density"),
    path("patterns/densities/add", add_density, name="add_density"),
    path("patterns/sums/", pattern_sums, name="pattern_sums"),
]
