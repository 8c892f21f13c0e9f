"""Addresses of this room, sorted."""

from django.urls import path

from .views import accept_group, end_group_right, group, group_people

urlpatterns = [
    path("groups/<int:pk>/", group, name="group"),
    path("groups/accept", accept_group, name="accept_group"),
    path("groups/people/", group_people, name="group_people"),
    path("groups/people/<int:pk>/end", end_group_right, name="end_group_right"),
]
