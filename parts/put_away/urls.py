"""Addresses of this room, sorted."""

from django.urls import path

from .views import done as done_putting_away
from .views import put as put_into
from .views import put_away, put_named, take_back

urlpatterns = [
    path("put-away/", put_away, name="put_away"),
    path("put-away/<int:pk>/put", put_into, name="put_into"),
    path("put-away/put", put_named, name="put_into_named"),
    path("put-away/back/<int:pk>", take_back, name="take_back"),
    path("put-away/done", done_putting_away, name="done_putting_away"),
]
