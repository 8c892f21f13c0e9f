"""Stock-take: what is found where it should lie, and what is missed."""

from core.web.rooms import STORES, NavLink, Protected, Room

ROOM = Room(
    urls="parts.stock_take.urls",
    nav=(NavLink("stock_takes", "i-good", "Stock-take", STORES, 30),),
    protected=(Protected("parts_stocktakeline", "The record of a stock-take is never changed; count again."),),
)
