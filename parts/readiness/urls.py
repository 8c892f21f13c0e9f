"""Addresses of this room, sorted."""

from django.urls import path

from .views.diagram import diagram
from .views.locomotive import locomotive
from .views.locomotives import locomotives
from .views.next import next_anywhere, next_things
from .views.order import order
from .views.subassembly import subassembly

urlpatterns = [
    path("l/<slug:slug>/", locomotive, name="locomotive"),
    path("l/<slug:slug>/diagram.svg", diagram, name="diagram"),
    path("l/<slug:slug>/next/", next_things, name="next"),
    path("l/<slug:slug>/order/", order, name="order"),
    path("l/<slug:slug>/s/<slug:code>/", subassembly, name="subassembly"),
    path("locomotives/", locomotives, name="locomotives"),
    path("next/", next_anywhere, name="next_anywhere"),
]
