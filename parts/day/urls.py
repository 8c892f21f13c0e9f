"""Addresses of this room, sorted."""

from datetime import date

from django.urls import path, register_converter

from .views.free import plan_chosen, sets_free
from .views.sheet import day_job, day_person, day_sheet, day_sheets, deal_again, plan_day, print_day_sheet


class Day:
    regex = r"\d{4}-\d\d-\d\d"

    def to_python(self, value: str) -> date:
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        return value.isoformat()


register_converter(Day, "day")

urlpatterns = [
    path("day-jobs/<int:pk>", day_job, name="day_job"),
    path("day-sheets/", day_sheets, name="day_sheets"),
    path("l/<slug:slug>/day/<day:day>/", day_sheet, name="day_sheet"),
    path("l/<slug:slug>/day/<day:day>/deal", deal_again, name="deal_again"),
    path("l/<slug:slug>/day/<day:day>/paper", print_day_sheet, name="print_day_sheet"),
    path("l/<slug:slug>/day/<day:day>/person", day_person, name="day_person"),
    path("l/<slug:slug>/day/<day:day>/plan", plan_day, name="plan_day"),
    path("l/<slug:slug>/free/", sets_free, name="sets_free"),
    path("l/<slug:slug>/free/<day:day>", plan_chosen, name="plan_chosen"),
]
