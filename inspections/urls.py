"""Addresses of the examinations, sorted by address."""

from django.urls import path

from . import urls_limits
from .views.concede import concede
from .views.crack_check import crack_check
from .views.decide import decide
from .views.examination import examination
from .views.examinations import examinations, sheet, sheet_pdf
from .views.examine import examine
from .views.hydraulic_test import hydraulic_test
from .views.measure import measure, thickness, try_measure, try_thickness
from .views.report import piece_records, report, subassembly_records
from .views.reproduce import nothing_to_reproduce, reproduce, set_taken_size

urlpatterns = [
    path("examinations/", examinations, name="examinations"),
    path("examinations/<int:pk>/", examination, name="examination"),
    path("examinations/<int:pk>/decide", decide, name="decide"),
    path("examinations/<int:pk>/report.pdf", report, name="report"),
    path("examinations/sheet", sheet, name="examination_sheet"),
    path("examinations/sheet.pdf", sheet_pdf, name="examination_sheet_pdf"),
    path("l/<slug:slug>/s/<slug:code>/records.pdf", subassembly_records, name="subassembly_records"),
    path("measurements/<int:pk>/concede", concede, name="concede"),
    path("sizes-taken/<int:pk>/set", set_taken_size, name="set_taken_size"),
    path("t/<str:code>/crack-check", crack_check, name="crack_check"),
    path("t/<str:code>/examine", examine, name="examine"),
    path("t/<str:code>/hydraulic-test", hydraulic_test, name="hydraulic_test"),
    path("t/<str:code>/measure", measure, name="measure"),
    path("t/<str:code>/measure/try", try_measure, name="try_measure"),
    path("t/<str:code>/records.pdf", piece_records, name="piece_records"),
    path("t/<str:code>/reproduce", reproduce, name="reproduce"),
    path("t/<str:code>/reproduce/none", nothing_to_reproduce, name="nothing_to_reproduce"),
    path("t/<str:code>/thickness", thickness, name="thickness"),
    path("t/<str:code>/thickness/try", try_thickness, name="try_thickness"),
    *urls_limits.urlpatterns,
]
