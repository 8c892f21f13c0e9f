"""Addresses of sizes, limit sheets, instruments and fits, sorted by address."""

from django.urls import path

from .views.concede_fit import concede_fit
from .views.fits import add_fit, fit, fit_limits, fits, locomotive_fits, propose_fits, retire_fit
from .views.import_limits import import_limits, limits_template
from .views.instruments import add_instrument, calibrate, edit_instrument, instrument, instruments, put_out_of_use
from .views.limits import attach_row, limit_sheet, limit_sheets
from .views.sizes import add_size, copy_sizes, edit_size, new_limits, retire_size, size, sizes

urlpatterns = [
    path("fits/", fits, name="fits"),
    path("fits/<int:pk>/", fit, name="fit"),
    path("fits/<int:pk>/concede", concede_fit, name="concede_fit"),
    path("fits/<int:pk>/limits", fit_limits, name="fit_limits"),
    path("fits/<int:pk>/retire", retire_fit, name="retire_fit"),
    path("instruments/", instruments, name="instruments"),
    path("instruments/add", add_instrument, name="add_instrument"),
    path("instruments/<int:pk>/", instrument, name="instrument"),
    path("instruments/<int:pk>/calibrate", calibrate, name="calibrate"),
    path("instruments/<int:pk>/edit", edit_instrument, name="edit_instrument"),
    path("instruments/<int:pk>/out-of-use", put_out_of_use, name="put_out_of_use"),
    path("l/<slug:slug>/fits/", locomotive_fits, name="locomotive_fits"),
    path("l/<slug:slug>/fits/add", add_fit, name="add_fit"),
    path("l/<slug:slug>/fits/propose", propose_fits, name="propose_fits"),
    path("limits/", limit_sheets, name="limit_sheets"),
    path("limits/<int:pk>/", limit_sheet, name="limit_sheet"),
    path("limits/import", import_limits, name="import_limits"),
    path("limits/rows/<int:pk>/give", attach_row, name="attach_row"),
    path("limits/template.csv", limits_template, name="limits_template"),
    path("p/<int:pk>/sizes/", sizes, name="sizes"),
    path("p/<int:pk>/sizes/add", add_size, name="add_size"),
    path("p/<int:pk>/sizes/copy", copy_sizes, name="copy_sizes"),
    path("sizes/<int:pk>/", size, name="size"),
    path("sizes/<int:pk>/edit", edit_size, name="edit_size"),
    path("sizes/<int:pk>/limits", new_limits, name="new_limits"),
    path("sizes/<int:pk>/retire", retire_size, name="retire_size"),
]
