"""Addresses of this room, sorted."""

from django.urls import path

from .views import (
    drop_item,
    return_list_pdf,
    return_to_service,
    sign_return,
    signed_return,
    signed_return_pdf,
    take_back_tick,
    tick_item,
)

urlpatterns = [
    path("l/<slug:slug>/return/", return_to_service, name="return_to_service"),
    path("l/<slug:slug>/return/list.pdf", return_list_pdf, name="return_list_pdf"),
    path("l/<slug:slug>/return/sign", sign_return, name="sign_return"),
    path("return/<int:pk>/", signed_return, name="signed_return"),
    path("return/<int:pk>/list.pdf", signed_return_pdf, name="signed_return_pdf"),
    path("return/items/<int:pk>/drop", drop_item, name="drop_item"),
    path("return/items/<int:pk>/take-back", take_back_tick, name="take_back_tick"),
    path("return/items/<int:pk>/tick", tick_item, name="tick_item"),
]
