"""Addresses of this room, sorted."""

from django.urls import path

from .views.decide import decide_on_piece, decide_on_place, decide_on_whole
from .views.firms import add_firm, call_firm, edit_firm, firm, firms, retire_firm
from .views.renewals import (
    begin_piece,
    begin_renewal,
    choose_pattern,
    close_renewal,
    give_up_renewal,
    renewal,
    renewals,
)
from .views.repairs import begin_repair, edit_repair, finish_repair, give_up_repair, promise_repair, repair
from .views.routes import add_route, edit_route, retire_route, routes
from .views.steps import add_step, drop_step, edit_step, fail_step, finish_step, promise_step

urlpatterns = [
    path("firms/", firms, name="firms"),
    path("firms/<int:pk>/", firm, name="firm"),
    path("firms/<int:pk>/call", call_firm, name="call_firm"),
    path("firms/<int:pk>/edit", edit_firm, name="edit_firm"),
    path("firms/<int:pk>/retire", retire_firm, name="retire_firm"),
    path("firms/add", add_firm, name="add_firm"),
    path("l/<slug:slug>/renewals/", renewals, name="renewals"),
    path("l/<slug:slug>/s/<slug:code>/decide", decide_on_whole, name="decide_on_whole"),
    path("p/<int:pk>/decide", decide_on_place, name="decide_on_place"),
    path("p/<int:pk>/renew", begin_renewal, name="begin_renewal"),
    path("renewals/<int:pk>/", renewal, name="renewal"),
    path("renewals/<int:pk>/add-step", add_step, name="add_step"),
    path("renewals/<int:pk>/close", close_renewal, name="close_renewal"),
    path("renewals/<int:pk>/give-up", give_up_renewal, name="give_up_renewal"),
    path("renewals/<int:pk>/new-piece", begin_piece, name="begin_piece"),
    path("renewals/<int:pk>/pattern", choose_pattern, name="choose_pattern"),
    path("renewals/steps/<int:pk>/done", finish_step, name="finish_step"),
    path("renewals/steps/<int:pk>/edit", edit_step, name="edit_step"),
    path("renewals/steps/<int:pk>/failed", fail_step, name="fail_step"),
    path("renewals/steps/<int:pk>/not-needed", drop_step, name="drop_step"),
    path("renewals/steps/<int:pk>/promise", promise_step, name="promise_step"),
    path("repairs/<int:pk>/", repair, name="repair"),
    path("repairs/<int:pk>/edit", edit_repair, name="edit_repair"),
    path("repairs/<int:pk>/finish", finish_repair, name="finish_repair"),
    path("repairs/<int:pk>/give-up", give_up_repair, name="give_up_repair"),
    path("repairs/<int:pk>/promise", promise_repair, name="promise_repair"),
    path("routes/", routes, name="routes"),
    path("routes/<slug:key>/", edit_route, name="edit_route"),
    path("routes/<slug:key>/retire", retire_route, name="retire_route"),
    path("routes/add", add_route, name="add_route"),
    path("t/<str:code>/decide", decide_on_piece, name="decide_on_piece"),
    path("t/<str:code>/repair", begin_repair, name="begin_repair"),
]
