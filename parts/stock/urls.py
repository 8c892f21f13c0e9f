"""Addresses of this room, sorted."""

from django.urls import path

from .views import cut, receive_stock, stock, weld_up

urlpatterns = [
    path("renewals/<int:pk>/weld-up", weld_up, name="weld_up"),
    path("stock/", stock, name="stock"),
    path("stock/receive", receive_stock, name="receive_stock"),
    path("t/<str:code>/cut", cut, name="cut"),
]
