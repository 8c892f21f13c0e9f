"""Addresses of this room, sorted."""

from django.urls import path

from .views import box_up, boxing_up, boxing_up_pdf, put_together

urlpatterns = [
    path("boxing-up/<int:pk>/", boxing_up, name="boxing_up"),
    path("boxing-up/<int:pk>/record.pdf", boxing_up_pdf, name="boxing_up_pdf"),
    path("l/<slug:slug>/s/<slug:code>/box-up", box_up, name="box_up"),
    path("l/<slug:slug>/s/<slug:code>/together", put_together, name="put_together"),
]
