"""Addresses of this room, sorted."""

from django.urls import path

from .views import add_boiler, boiler, boilers, edit_boiler, enter, move_boiler, put_part, put_row

urlpatterns = [
    path("boilers/", boilers, name="boilers"),
    path("boilers/<int:pk>/", boiler, name="boiler"),
    path("boilers/<int:pk>/edit", edit_boiler, name="edit_boiler"),
    path("boilers/<int:pk>/enter", enter, name="enter_boiler"),
    path("boilers/<int:pk>/move", move_boiler, name="move_boiler"),
    path("boilers/<int:pk>/parts/<int:part>", put_part, name="edit_boiler_part"),
    path("boilers/<int:pk>/parts/add", put_part, name="add_boiler_part"),
    path("boilers/<int:pk>/scheme/<int:row>", put_row, name="edit_scheme_row"),
    path("boilers/<int:pk>/scheme/add", put_row, name="add_scheme_row"),
    path("boilers/add", add_boiler, name="add_boiler"),
]
