"""Addresses of this room, sorted."""

from django.urls import path

from .views.days import my_days, person_days, say_day, who_is_in
from .views.machines import add_machine, machine, machines
from .views.skills import add_skill, end_skill, set_learner

urlpatterns = [
    path("days/", my_days, name="my_days"),
    path("days/say", say_day, name="say_day"),
    path("machines/", machines, name="machines"),
    path("machines/<int:pk>/", machine, name="machine"),
    path("machines/add", add_machine, name="add_machine"),
    path("people/<int:pk>/days", person_days, name="person_days"),
    path("people/<int:pk>/learner", set_learner, name="set_learner"),
    path("people/<int:pk>/skills/add", add_skill, name="add_skill"),
    path("people/skills/<int:pk>/end", end_skill, name="end_skill"),
    path("who-is-in/", who_is_in, name="who_is_in"),
]
