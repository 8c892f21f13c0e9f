"""All addresses: signing in here, the rest with the app it belongs to."""

from django.urls import include, path

from .views.people import add_person, authorise, end_authorisation, me, people, person, set_active
from .views.sign_in import sign_in, sign_out

urlpatterns = [
    path("me/", me, name="me"),
    path("people/", people, name="people"),
    path("people/add", add_person, name="add_person"),
    path("people/<int:pk>/", person, name="person"),
    path("people/<int:pk>/authorise", authorise, name="authorise"),
    path("people/<int:pk>/active", set_active, name="set_active"),
    path("people/authorisations/<int:pk>/end", end_authorisation, name="end_authorisation"),
    path("sign-in/", sign_in, name="sign-in"),
    path("sign-out/", sign_out, name="sign-out"),
    path("", include("inspections.urls")),
    path("", include("parts.urls")),
]
