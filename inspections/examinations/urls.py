"""Addresses of this room, sorted."""

from django.urls import path

from .views.examination import examination
from .views.examinations import examinations, sheet, sheet_pdf
from .views.examine import examine
from .views.hydraulic_test import hydraulic_test

urlpatterns = [
    path("examinations/", examinations, name="examinations"),
    path("examinations/<int:pk>/", examination, name="examination"),
    path("examinations/sheet", sheet, name="examination_sheet"),
    path("examinations/sheet.pdf", sheet_pdf, name="examination_sheet_pdf"),
    path("t/<str:code>/examine", examine, name="examine"),
    path("t/<str:code>/hydraulic-test", hydraulic_test, name="hydraulic_test"),
]
