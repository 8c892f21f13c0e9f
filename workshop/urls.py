"""All addresses: each room says its own."""

from django.urls import include, path

from core.web.rooms import rooms

urlpatterns = [path("", include(room.urls)) for room in rooms() if room.urls]
