"""Addresses of the stock-take, sorted by address."""

from django.urls import path

from .views import stock_take as views

urlpatterns = [
    path("stock-take/", views.stock_takes, name="stock_takes"),
    path("stock-take/<int:pk>/", views.stock_take, name="stock_take"),
    path("stock-take/<int:pk>/end", views.end_stock_take, name="end_stock_take"),
    path("stock-take/<int:pk>/give-up", views.give_up_stock_take, name="give_up_stock_take"),
    path("stock-take/<int:pk>/record", views.stock_take_record, name="stock_take_record"),
    path("stock-take/<int:pk>/see", views.see, name="see_piece"),
    path("stock-take/<int:pk>/see-not", views.see_not, name="see_piece_not"),
    path("stock-take/begin", views.begin_stock_take, name="begin_stock_take"),
]
