"""Addresses of this room, sorted."""

from django.urls import path

from ..records.forms import TESTS
from .views.examination import examination
from .views.examinations import examinations, sheet, sheet_pdf
from .views.examine import examine
from .views.shared_report import shared_report
from .views.tests import test_of_piece

urlpatterns = [
    path("examinations/", examinations, name="examinations"),
    path("examinations/<int:pk>/", examination, name="examination"),
    path("examinations/sheet", sheet, name="examination_sheet"),
    path("examinations/sheet.pdf", sheet_pdf, name="examination_sheet_pdf"),
    path("examinations/reports/<int:pk>/", shared_report, name="shared_report"),
    path("t/<str:code>/examine", examine, name="examine"),
    *(
        path(f"t/<str:code>/{kind.replace(' ', '-')}", test_of_piece, {"kind": kind}, name=kind.replace(" ", "_"))
        for kind in TESTS
    ),
]
