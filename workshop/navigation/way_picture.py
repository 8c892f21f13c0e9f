"""The way a piece goes, drawn: an old piece down the left, a new one down the right, both refitted at the foot."""

from dataclasses import dataclass

from parts.domain.meanings import PATH
from parts.domain.words import State

BOX_W, BOX_H = 132, 40
LEFT, RIGHT, STEP, TOP = 4, 204, 84, 10
SPOTS = {
    State.STRIPPED: (LEFT, 0), State.CLEANED: (LEFT, 1), State.CRACK_CHECKED: (LEFT, 2), State.ACCEPTED: (LEFT, 3),
    State.REFITTED: (LEFT, 4), State.WITHDRAWN: (RIGHT, 0), State.IN_THE_MAKING: (RIGHT, 2), State.RENEWED: (RIGHT, 3),
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    words: str
    x: int
    y: int
    path: str = ""
    tip: str = ""


@dataclass(frozen=True, kw_only=True)
class WayPicture:
    boxes: list[Shape]
    arrows: list[Shape]


def way_picture() -> WayPicture:
    boxes = [Shape(words=state.value, x=x, y=_y(row)) for state, (x, row) in SPOTS.items()]
    return WayPicture(boxes=boxes, arrows=[_arrow(*each) for each in PATH])


def _y(row: int) -> int:
    return TOP + row * STEP


def _arrow(begin: State, words: str, end: State) -> Shape:
    (x1, row1), (x2, row2) = SPOTS[begin], SPOTS[end]
    middle1 = x1 + BOX_W // 2
    if row1 == row2:  # across
        y = _y(row1) + BOX_H // 2
        at = (x1 + BOX_W + x2) // 2
        return Shape(
            words=words, x=at, y=y - 8, path=f"M{x1 + BOX_W} {y}H{x2 - 9}",
            tip=f"{x2 - 9},{y - 5} {x2},{y} {x2 - 9},{y + 5}",
        )  # fmt: skip
    y1, y2 = _y(row1) + BOX_H, _y(row2)
    if x1 == x2:  # down
        return Shape(
            words=words, x=middle1 + 44, y=(y1 + y2) // 2 + 5, path=f"M{middle1} {y1}V{y2 - 9}",
            tip=f"{middle1 - 5},{y2 - 9} {middle1},{y2} {middle1 + 5},{y2 - 9}",
        )  # fmt: skip
    y, side = y2 + BOX_H // 2, x2 + BOX_W
    return Shape(
        words=words, x=middle1 + 44, y=(y1 + y2) // 2 + 5, path=f"M{middle1} {y1}V{y}H{side + 9}",
        tip=f"{side + 9},{y - 5} {side},{y} {side + 9},{y + 5}",
    )  # fmt: skip
