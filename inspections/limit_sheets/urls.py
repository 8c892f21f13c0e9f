"""Addresses of this room, sorted."""

from django.urls import path

from .views.import_limits import import_limits, limits_template
from .views.limits import attach_row, limit_sheet, limit_sheets

urlpatterns = [
    path("limits/", limit_sheets, name="limit_sheets"),
    path("limits/<int:pk>/", limit_sheet, name="limit_sheet"),
    path("limits/import", import_limits, name="import_limits"),
    path("limits/rows/<int:pk>/give", attach_row, name="attach_row"),
    path("limits/template.csv", limits_template, name="limits_template"),
]
