"""Addresses of this room, sorted."""

from django.urls import path

from .views.forecast import forecast, keep_forecast
from .views.guess import guess
from .views.machine_work import end_machine_work, machine_work
from .views.week import unusual_day, working_week

urlpatterns = [
    path("l/<slug:slug>/forecast/", forecast, name="forecast"),
    path("l/<slug:slug>/forecast/keep", keep_forecast, name="keep_forecast"),
    path("l/<slug:slug>/s/<slug:code>/guess", guess, name="guess"),
    path("l/<slug:slug>/s/<slug:code>/machine-work", machine_work, name="machine_work"),
    path("machine-work/<int:pk>/end", end_machine_work, name="end_machine_work"),
    path("week/", working_week, name="working_week"),
    path("week/day", unusual_day, name="unusual_day"),
]
