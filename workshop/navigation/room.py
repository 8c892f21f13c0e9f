"""The bar of every page, and the page "More"."""

from core.web.rooms import BAR, Room, Way

ROOM = Room(
    urls="workshop.navigation.urls",
    ways=(Way("more", "i-more", "More", BAR, 50),),
)
