"""Addresses of this room, sorted."""

from django.urls import path

from .views import mistake, mistakes, put_it_back, strike, strike_piece

urlpatterns = [
    path("mistakes/", mistakes, name="mistakes"),
    path("mistakes/<int:pk>/", mistake, name="mistake"),
    path("mistakes/<int:pk>/back", put_it_back, name="put_struck_back"),
    path("mistakes/<slug:sort>/<int:pk>", strike, name="strike"),
    path("t/<str:code>/mistake", strike_piece, name="strike_piece"),
]
