"""All addresses: each room says its own. In one list, since a request tries them one after the other."""

from importlib import import_module

from core.web.rooms import rooms

urlpatterns = [address for room in rooms() if room.urls for address in import_module(room.urls).urlpatterns]
