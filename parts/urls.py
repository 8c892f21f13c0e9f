"""Addresses of the register, sorted by address."""

from django.urls import path

from .views.act import act
from .views.choose_place import choose_place
from .views.describe import describe
from .views.find import find
from .views.holds import add_hold, holds, release_hold
from .views.home import home, locomotives
from .views.import_register import import_list
from .views.labels import labels
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
from .views.locomotive import locomotive
from .views.more import more
from .views.move import move, move_several
from .views.new_locomotive import make
from .views.next import next_anywhere, next_things
from .views.order import order
from .views.overhauls import overhauls
from .views.photos import location_photos, photo, photo_page, photos, position_photos
from .views.position import add_position, edit_position, known_empty, position, remove_position
from .views.split import split
from .views.strip import start_on, strip
from .views.structure import add_subassembly, edit_subassembly, remove_subassembly, structure
from .views.subassembly import subassembly
from .views.tag import tag, type_code
from .views.tie import tie_tag

urlpatterns = [
    path("", home, name="home"),
    path("find/", find, name="find"),
    path("holds/<int:pk>/release", release_hold, name="release_hold"),
    path("l/<slug:slug>/", locomotive, name="locomotive"),
    path("l/<slug:slug>/holds/", holds, name="holds"),
    path("l/<slug:slug>/holds/add", add_hold, name="add_hold"),
    path("l/<slug:slug>/import/", import_list, name="import_register"),
    path("l/<slug:slug>/next/", next_things, name="next"),
    path("l/<slug:slug>/order/", order, name="order"),
    path("l/<slug:slug>/overhauls/", overhauls, name="overhauls"),
    path("l/<slug:slug>/s/<slug:code>/", subassembly, name="subassembly"),
    path("l/<slug:slug>/structure/", structure, name="structure"),
    path("l/<slug:slug>/structure/add", add_subassembly, name="add_subassembly"),
    path("l/<slug:slug>/structure/<slug:code>/", edit_subassembly, name="edit_subassembly"),
    path("l/<slug:slug>/structure/<slug:code>/add", add_position, name="add_position"),
    path("l/<slug:slug>/structure/<slug:code>/remove", remove_subassembly, name="remove_subassembly"),
    path("labels/", labels, name="labels"),
    path("locomotives/new/", make, name="new_locomotive"),
    path("locomotives/", locomotives, name="locomotives"),
    path("more/", more, name="more"),
    path("next/", next_anywhere, name="next_anywhere"),
    path("p/<int:pk>/", position, name="position"),
    path("p/<int:pk>/edit", edit_position, name="edit_position"),
    path("p/<int:pk>/known-empty", known_empty, name="known_empty"),
    path("p/<int:pk>/photos", position_photos, name="position_photos"),
    path("p/<int:pk>/new-piece", start_on, name="start_on"),
    path("p/<int:pk>/remove", remove_position, name="remove_position"),
    path("photo/<slug:name>/", photo_page, name="photo_page"),
    path("photo/<slug:name>/<slug:size>.jpg", photo, name="photo"),
    path("t/<str:code>/photos", photos, name="photos"),
    path("t/<str:code>/move", move, name="move"),
    path("strip/", strip, name="strip"),
    path("T/<str:code>", tag, name="tag_in_capitals"),
    path("t/<str:code>", tag, name="tag"),
    path("t/<str:code>/describe", describe, name="describe"),
    path("t/<str:code>/do/<slug:slug>", act, name="do"),
    path("t/<str:code>/place", choose_place, name="choose_place"),
    path("t/<str:code>/split", split, name="split"),
    path("t/<str:code>/tie", tie_tag, name="tie"),
    path("tag/", type_code, name="type-code"),
    path("where/", locations, name="locations"),
    path("where/add", add_location, name="add_location"),
    path("where/<int:pk>/", location, name="location"),
    path("where/<int:pk>/edit", edit_location, name="edit_location"),
    path("where/<int:pk>/move", carry, name="carry"),
    path("where/<int:pk>/move-several", move_several, name="move_several"),
    path("where/<int:pk>/photos", location_photos, name="location_photos"),
    path("where/<int:pk>/put", put_here, name="put_here"),
    path("where/<int:pk>/retire", retire_location, name="retire_location"),
    path("where/<int:pk>/tag", give_tag, name="give_tag"),
    path("where/<int:pk>/use-again", use_location_again, name="use_location_again"),
]
