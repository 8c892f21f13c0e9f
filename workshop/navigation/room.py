"""The bar of every page, and the page "More"."""

from core.web.rooms import BAR, YOU, NavLink, Room

ROOM = Room(
    urls="workshop.navigation.urls",
    nav=(NavLink("more", "i-more", "More", BAR, 50), NavLink("words", "i-find", "What the words mean", YOU, 90)),
)
