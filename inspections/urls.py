"""Addresses of the examinations, sorted by address."""

from django.urls import path

from .views.crack_check import crack_check
from .views.decide import decide
from .views.examination import examination
from .views.examinations import examinations
from .views.examine import examine
from .views.hydraulic_test import hydraulic_test

urlpatterns = [
    path("examinations/", examinations, name="examinations"),
    path("examinations/<int:pk>/", examination, name="examination"),
    path("examinations/<int:pk>/decide", decide, name="decide"),
    path("t/<str:code>/crack-check", crack_check, name="crack_check"),
    path("t/<str:code>/examine", examine, name="examine"),
    path("t/<str:code>/hydraulic-test", hydraulic_test, name="hydraulic_test"),
]
