"""A pen for drawings in the manner of an engraving: outlines, hatched sections, and roundness shown by lines alone."""

import math
from collections.abc import Iterable, Sequence

from PIL import Image, ImageDraw

WIDTH, HEIGHT = 1600, 1200
FINE = 2  # drawn so many times as large and then reduced, which makes the lines smooth
INK, PAPER = 0, 255
OUTLINE, LINE, HAIR = 5, 3, 1.6

Point = tuple[float, float]


class Pen:
    """Draws on one sheet, in units of the finished picture; the origin is at the top left."""

    def __init__(self):
        self.sheet = Image.new("L", (WIDTH * FINE, HEIGHT * FINE), PAPER)
        self.draw = ImageDraw.Draw(self.sheet)

    def finished(self) -> Image.Image:
        return self.sheet.reduce(FINE)

    # --- lines

    def line(self, *points: Point, width: float = LINE, ink: int = INK) -> None:
        self.draw.line([_fine(p) for p in points], fill=ink, width=round(width * FINE), joint="curve")

    def centre_line(self, start: Point, end: Point) -> None:
        """Long and short dashes, as a draughtsman marks an axis."""
        length = math.dist(start, end)
        at = 0.0
        for dash in _repeated((46, -12, 8, -12)):
            if at >= length:
                return
            if dash > 0:
                a, b = at / length, min(at + dash, length) / length
                self.line(_between(start, end, a), _between(start, end, b), width=HAIR, ink=90)
            at += abs(dash)

    # --- shapes; each hides what lies under it

    def polygon(self, points: Sequence[Point], *, width: float = OUTLINE, fill: int | None = PAPER) -> None:
        if fill is not None:
            self.draw.polygon([_fine(p) for p in points], fill=fill)
        self.line(*points, points[0], points[1], width=width)

    def box(self, x0, y0, x1, y1, *, radius: float = 0, width: float = OUTLINE, fill: int | None = PAPER) -> None:
        corners = [*_fine((x0, y0)), *_fine((x1, y1))]
        self.draw.rounded_rectangle(corners, radius=radius * FINE, outline=INK, width=round(width * FINE), fill=fill)

    def circle(self, centre: Point, radius: float, *, width: float = OUTLINE, fill: int | None = PAPER) -> None:
        self.oval(centre, radius, radius, width=width, fill=fill)

    def oval(self, centre: Point, rx: float, ry: float, *, width: float = OUTLINE, fill: int | None = PAPER) -> None:
        (x, y) = centre
        corners = [*_fine((x - rx, y - ry)), *_fine((x + rx, y + ry))]
        self.draw.ellipse(corners, outline=INK, width=round(width * FINE), fill=fill)

    def arc(self, centre: Point, radius: float, start: float, end: float, *, width: float = LINE) -> None:
        """Degrees, clockwise from the right."""
        self.line(*around(centre, radius, start, end), width=width)

    # --- tone by lines

    def hatch(self, points: Sequence[Point], *, angle: float = 45, gap: float = 13, width: float = HAIR) -> None:
        """A cut surface, or shade: parallel lines within the shape."""
        fine = [_fine(p) for p in points]
        left, top = (int(min(axis)) for axis in zip(*fine, strict=True))
        right, bottom = (int(max(axis)) + 1 for axis in zip(*fine, strict=True))
        size = (right - left, bottom - top)
        mask = Image.new("1", size, 0)
        ImageDraw.Draw(mask).polygon([(x - left, y - top) for x, y in fine], fill=1)
        lines = Image.new("1", size, 0)
        self._parallel(ImageDraw.Draw(lines), size, math.radians(angle), gap * FINE, round(width * FINE))
        inked = Image.new("1", size, 0)
        inked.paste(lines, (0, 0), mask)
        self.sheet.paste(INK, (left, top), inked)

    @staticmethod
    def _parallel(draw, size, angle, gap, width) -> None:
        along, across = (math.cos(angle), -math.sin(angle)), (math.sin(angle), math.cos(angle))
        middle, reach = (size[0] / 2, size[1] / 2), math.hypot(*size)
        for step in range(-int(reach / gap), int(reach / gap) + 1):
            x, y = middle[0] + across[0] * step * gap, middle[1] + across[1] * step * gap
            ends = [(x + s * along[0] * reach, y + s * along[1] * reach) for s in (-1, 1)]
            draw.line(ends, fill=1, width=width)

    def rounded(self, x0, y0, x1, y1, *, upright: bool = False, lines: int = 15) -> None:
        """A bar or barrel lying along x (or upright): lines that crowd towards its shaded edge."""
        for n in range(1, lines):
            turn = math.pi * (n / lines)
            share = (1 - math.cos(turn)) / 2
            if 0.16 < share < 0.42:
                continue  # where the light falls
            width = HAIR if share < 0.5 else HAIR + 1.5 * share
            if upright:
                x = x0 + (x1 - x0) * share
                self.line((x, y0 + 3), (x, y1 - 3), width=width)
            else:
                y = y0 + (y1 - y0) * share
                self.line((x0 + 3, y), (x1 - 3, y), width=width)

    def dished(self, centre: Point, inner: float, outer: float, *, rings: int = 6) -> None:
        """A face turned on a lathe: broken rings, darker away from the light."""
        for n in range(1, rings):
            radius = inner + (outer - inner) * n / rings
            self.arc(centre, radius, -20, 130, width=HAIR + n * 0.25)
            self.arc(centre, radius, 165, 250, width=HAIR)

    def ground(self, x0: float, x1: float, y: float) -> None:
        """A few strokes under the piece, so that it stands on something."""
        middle, half = (x0 + x1) / 2, (x1 - x0) / 2
        for n in range(7):
            reach = half * (1.08 - 0.11 * n)
            self.line(
                (middle - reach, y + 9 * n), (middle + reach * 0.96, y + 9 * n), width=max(3.2 - 0.35 * n, 1), ink=40
            )

    # --- small things that recur

    def rivets(self, points: Iterable[Point], radius: float = 10) -> None:
        for x, y in points:
            self.circle((x, y), radius, width=LINE)
            self.arc((x, y), radius * 0.55, 0, 110, width=HAIR)

    def bolt_circle(self, centre: Point, radius: float, count: int, size: float = 15, *, start: float = 0) -> None:
        for n in range(count):
            self.nut(on(centre, radius, start + 360 * n / count), size)

    def nut(self, centre: Point, size: float) -> None:
        self.polygon([on(centre, size, 30 + 60 * n) for n in range(6)], width=LINE)
        self.circle(centre, size * 0.55, width=HAIR)

    def thread(self, x0, y0, x1, y1) -> None:
        """A screwed end lying along x."""
        self.box(x0, y0, x1, y1, width=LINE)
        for n in range(1, int((x1 - x0) / 11)):
            x = x0 + 11 * n
            self.line((x, y1), (x + 6, y0), width=HAIR)


def on(centre: Point, radius: float, degrees: float) -> Point:
    """The point on a circle, clockwise from the right."""
    turn = math.radians(degrees)
    return centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)


def around(centre: Point, radius: float, start: float, end: float) -> list[Point]:
    steps = max(int(abs(end - start) / 4), 2)
    return [on(centre, radius, start + (end - start) * n / steps) for n in range(steps + 1)]


def row(start: Point, end: Point, count: int) -> list[Point]:
    return [_between(start, end, n / (count - 1)) for n in range(count)]


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _fine(point: Point) -> Point:
    return point[0] * FINE, point[1] * FINE


def _repeated(cycle):
    while True:
        yield from cycle
