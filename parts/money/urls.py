"""Addresses of this room, sorted."""

from django.urls import path

from .views.ledger import ledger, ledger_csv, ledger_pdf
from .views.money import money

urlpatterns = [
    path("l/<slug:slug>/ledger/", ledger, name="ledger"),
    path("l/<slug:slug>/ledger/csv", ledger_csv, name="ledger_csv"),
    path("l/<slug:slug>/ledger/pdf", ledger_pdf, name="ledger_pdf"),
    path("l/<slug:slug>/money/", money, name="money"),
]
