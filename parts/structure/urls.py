"""Addresses of this room, sorted."""

from django.urls import path

from .views.evidence import add_evidence
from .views.merging import merge_place, merge_subassembly
from .views.new_locomotive import make
from .views.order import edit_order, edit_own_order
from .views.overhauls import overhauls
from .views.position import add_position, edit_position, known_empty, position, remove_position
from .views.structure import add_subassembly, edit_subassembly, remove_subassembly, structure

urlpatterns = [
    path("l/<slug:slug>/overhauls/", overhauls, name="overhauls"),
    path("l/<slug:slug>/s/<slug:code>/order", edit_order, name="edit_order"),
    path("l/<slug:slug>/structure/", structure, name="structure"),
    path("l/<slug:slug>/structure/<slug:code>/", edit_subassembly, name="edit_subassembly"),
    path("l/<slug:slug>/structure/<slug:code>/add", add_position, name="add_position"),
    path("l/<slug:slug>/structure/<slug:code>/merge", merge_subassembly, name="merge_subassembly"),
    path("l/<slug:slug>/structure/<slug:code>/remove", remove_subassembly, name="remove_subassembly"),
    path("l/<slug:slug>/structure/add", add_subassembly, name="add_subassembly"),
    path("locomotives/new/", make, name="new_locomotive"),
    path("p/<int:pk>/", position, name="position"),
    path("p/<int:pk>/edit", edit_position, name="edit_position"),
    path("p/<int:pk>/evidence", add_evidence, name="add_evidence"),
    path("p/<int:pk>/known-empty", known_empty, name="known_empty"),
    path("p/<int:pk>/merge", merge_place, name="merge_place"),
    path("p/<int:pk>/order", edit_own_order, name="edit_own_order"),
    path("p/<int:pk>/remove", remove_position, name="remove_position"),
]
