"""Addresses of this room, sorted."""

from django.urls import path

from .views import calendar_file, make_address, my_calendar, withdraw_address

urlpatterns = [
    path("calendar/", my_calendar, name="my_calendar"),
    path("calendar/<str:secret>.ics", calendar_file, name="calendar_file"),
    path("calendar/make", make_address, name="make_address"),
    path("calendar/withdraw", withdraw_address, name="withdraw_address"),
]
