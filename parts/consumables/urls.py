"""Addresses of this room, sorted."""

from django.urls import path

from . import views

urlpatterns = [
    path("consumables/", views.consumables, name="consumables"),
    path("consumables/<int:pk>/", views.consumable, name="consumable"),
    path("consumables/<int:pk>/count", views.count, name="count_consumable"),
    path("consumables/<int:pk>/edit", views.edit, name="edit_consumable"),
    path("consumables/<int:pk>/order", views.order, name="order_consumable"),
    path("consumables/<int:pk>/put-in-stock", views.put_in_stock, name="put_consumable_in_stock"),
    path("consumables/<int:pk>/take", views.take, name="take_consumable"),
    path("consumables/add", views.add, name="add_consumable"),
    path("consumables/orders/<int:pk>/arrived", views.arrived, name="consumable_arrived"),
    path("consumables/orders/<int:pk>/give-up", views.give_up, name="give_up_consumable_order"),
    path("p/<int:pk>/consumables", views.want, name="want_consumable"),
]
