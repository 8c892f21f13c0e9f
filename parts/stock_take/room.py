"""Stock-take: what is found where it should lie, and what is missed."""

from core.web.rooms import STORES, Room, Way

ROOM = Room(
    urls="parts.stock_take.urls",
    ways=(Way("stock_takes", "i-good", "Stock-take", STORES, 30),),
)
