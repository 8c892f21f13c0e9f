"""Addresses of this room, sorted."""

from django.urls import path

from .views import piece_records, report, subassembly_records

urlpatterns = [
    path("examinations/<int:pk>/report.pdf", report, name="report"),
    path("l/<slug:slug>/s/<slug:code>/records.pdf", subassembly_records, name="subassembly_records"),
    path("t/<str:code>/records.pdf", piece_records, name="piece_records"),
]
