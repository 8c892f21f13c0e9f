"""All addresses: signing in here, the rest with the app it belongs to."""

from django.urls import include, path

from .views.sign_in import sign_in, sign_out

urlpatterns = [
    path("sign-in/", sign_in, name="sign-in"),
    path("sign-out/", sign_out, name="sign-out"),
    path("", include("inspections.urls")),
    path("", include("parts.urls")),
]
