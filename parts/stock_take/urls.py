"""Addresses of this room, sorted."""

from django.urls import path

from .views import (
    begin_stock_take,
    end_stock_take,
    give_up_stock_take,
    see,
    see_not,
    stock_take,
    stock_take_record,
    stock_takes,
)

urlpatterns = [
    path("stock-take/", stock_takes, name="stock_takes"),
    path("stock-take/<int:pk>/", stock_take, name="stock_take"),
    path("stock-take/<int:pk>/end", end_stock_take, name="end_stock_take"),
    path("stock-take/<int:pk>/give-up", give_up_stock_take, name="give_up_stock_take"),
    path("stock-take/<int:pk>/record", stock_take_record, name="stock_take_record"),
    path("stock-take/<int:pk>/see", see, name="see_piece"),
    path("stock-take/<int:pk>/see-not", see_not, name="see_piece_not"),
    path("stock-take/begin", begin_stock_take, name="begin_stock_take"),
]
