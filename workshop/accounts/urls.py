"""Addresses of this room, sorted."""

from django.urls import path

from .views.invitations import invitation_card, invitations, invite, join, join_by_hand, joining, withdraw_invitation
from .views.me import end_others, end_sign_in, lose_card, me, my_pin
from .views.people import (
    add_person,
    authorise,
    end_authorisation,
    forget_pin,
    people,
    person,
    print_card,
    set_active,
    sign_out_person,
    withdraw_card,
)
from .views.sign_in import sign_in, sign_out
from .views.switch import by_card, card_scanned, switch, switch_to
from .views.tablets import remove_tablet, tablets

urlpatterns = [
    path("CARD/<str:code>", card_scanned, name="card_in_capitals"),
    path("JOIN/<str:code>", join, name="join_in_capitals"),
    path("card/<str:code>", card_scanned, name="card"),
    path("join/", join_by_hand, name="join_by_hand"),
    path("join/<str:code>", join, name="join"),
    path("joining/", joining, name="joining"),
    path("me/", me, name="me"),
    path("me/card/lost", lose_card, name="lose_card"),
    path("me/others/sign-out", end_others, name="end_others"),
    path("me/pin", my_pin, name="my_pin"),
    path("people/", people, name="people"),
    path("people/<int:pk>/", person, name="person"),
    path("people/<int:pk>/active", set_active, name="set_active"),
    path("people/<int:pk>/authorise", authorise, name="authorise"),
    path("people/<int:pk>/card", print_card, name="print_card"),
    path("people/<int:pk>/card/withdraw", withdraw_card, name="withdraw_card"),
    path("people/<int:pk>/pin/forget", forget_pin, name="forget_pin"),
    path("people/<int:pk>/sign-out", sign_out_person, name="sign_out_person"),
    path("people/add", add_person, name="add_person"),
    path("people/authorisations/<int:pk>/end", end_authorisation, name="end_authorisation"),
    path("people/invitations/", invitations, name="invitations"),
    path("people/invitations/<int:pk>/withdraw", withdraw_invitation, name="withdraw_invitation"),
    path("people/invitations/add", invite, name="invite"),
    path("people/invitations/card", invitation_card, name="invitation_card"),
    path("sign-in/", sign_in, name="sign-in"),
    path("sign-ins/<int:pk>/end", end_sign_in, name="end_sign_in"),
    path("sign-out/", sign_out, name="sign-out"),
    path("switch/", switch, name="switch"),
    path("switch/<int:pk>", switch_to, name="switch_to"),
    path("switch/card", by_card, name="by_card"),
    path("tablets/", tablets, name="tablets"),
    path("tablets/<int:pk>/remove", remove_tablet, name="remove_tablet"),
]
