"""One pen: outlines in millimetres of the locomotive, x from front to rear and y upward from the rail.

A path knows nothing of the paper; `Paper` turns it into the path data of an SVG. Curves are Béziers, so that a path
can be mirrored by its points alone.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import cos, hypot, pi, sin, tan
from typing import Any

Point = tuple[float, float]
PathStep = tuple[Any, ...]
"""A letter and its points; a circle has its radius besides."""
Box = tuple[float, float, float, float]
"""Left, bottom, right, top, in mm."""


@dataclass(frozen=True, slots=True)
class Path:
    """Steps of a letter and its points: M move, L line, Q and C curves, Z close, O a circle (centre and radius)."""

    steps: tuple[PathStep, ...] = ()

    def __add__(self, other: "Path") -> "Path":
        return Path(self.steps + other.steps)

    def __bool__(self) -> bool:
        return bool(self.steps)

    def mapped(self, move: Callable[[Point], Point]) -> "Path":
        """The path with every point put through a function; the function must keep lengths, as circles keep theirs."""
        return Path(tuple((letter, tuple(map(move, points)), *rest) for letter, points, *rest in self.steps))

    def shifted(self, dx: float, dy: float = 0) -> "Path":
        return self.mapped(lambda point: (point[0] + dx, point[1] + dy))

    def mirrored(self, x: float = 0) -> "Path":
        """Mirrored about an upright line; circles turn round, too, and are of negative radius then."""
        turned = self.mapped(lambda point: (2 * x - point[0], point[1]))
        return Path(tuple((step[0], step[1], -step[2]) if step[0] == "O" else step for step in turned.steps))

    def box(self) -> Box:
        """The box round all of it; of a curve, round points along it."""
        xs, ys = zip(*self._points(), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def _points(self) -> Iterator[Point]:
        at: Point = (0, 0)
        for letter, points, *rest in self.steps:
            if letter == "O":
                (x, y), reach = points[0], abs(rest[0])
                yield from ((x - reach, y - reach), (x + reach, y + reach))
            elif letter in "QC":
                yield from (_on_curve((at, *points), n / 16) for n in range(17))
            else:
                yield from points
            at = points[-1] if points else at


def _on_curve(points: tuple[Point, ...], part: float) -> Point:
    """The point at this part of a Bézier, by dividing its lines as de Casteljau did."""
    while len(points) > 1:
        pairs = zip(points, points[1:], strict=False)
        points = tuple((a + (c - a) * part, b + (d - b) * part) for (a, b), (c, d) in pairs)
    return points[0]


def joined(paths: Iterable[Path]) -> Path:
    return sum(paths, Path())


def line(*points: Point) -> Path:
    return Path((("M", points[:1]), ("L", points[1:])))


def polygon(*points: Point) -> Path:
    return Path((("M", points[:1]), ("L", points[1:]), ("Z", ())))


def rectangle(left: float, bottom: float, right: float, top: float) -> Path:
    return polygon((left, bottom), (left, top), (right, top), (right, bottom))


def circle(x: float, y: float, radius: float) -> Path:
    return Path((("O", ((x, y),), radius),))


def dots(*points: Point) -> Path:
    """Rivets and stay heads: lines without length, which a round pen makes into dots."""
    return joined(Path((("M", (point,)), ("L", (point,)))) for point in points)


def rounded(*corners: tuple[float, ...]) -> Path:
    """A closed outline through corners (x, y) or (x, y, radius)."""
    steps: list[PathStep] = []
    for n, corner in enumerate(corners):
        here, radius = (corner[0], corner[1]), corner[2] if len(corner) > 2 else 0
        (x0, y0, *_), (x1, y1, *_) = corners[n - 1], corners[(n + 1) % len(corners)]
        start, end = _toward(here, (x0, y0), radius), _toward(here, (x1, y1), radius)
        steps.append(("L" if steps else "M", (start,)))
        if radius:
            steps.append(("Q", (here, end)))
    return Path((*steps, ("Z", ())))


def _toward(here: Point, there: Point, distance: float) -> Point:
    length = hypot(there[0] - here[0], there[1] - here[1]) or 1
    part = min(distance / length, 0.5)
    return here[0] + (there[0] - here[0]) * part, here[1] + (there[1] - here[1]) * part


def curve(start: Point, *steps: tuple[Point, ...], close: bool = True) -> Path:
    """An outline from a start, each step one point (line), two (quadratic) or three (cubic)."""
    letters = {1: "L", 2: "Q", 3: "C"}
    middle = tuple((letters[len(points)], points) for points in steps)
    return Path((("M", (start,)), *middle, *([("Z", ())] if close else [])))


def around(x: float, y: float, radius: float, angle: float) -> Point:
    """The point at an angle in radians, anticlockwise from the rear."""
    return x + radius * cos(angle), y + radius * sin(angle)


def arc(x: float, y: float, radius: float, start: float, end: float) -> tuple[tuple[Point, ...], ...]:
    """The cubic steps along a circle from one angle to another, in pieces of a quarter turn at most."""
    pieces = max(1, round(abs(end - start) / (pi / 2) + 0.49))
    turn = (end - start) / pieces
    reach = radius * 4 / 3 * tan(turn / 4)
    found = []
    for n in range(pieces):
        a, b = start + n * turn, start + (n + 1) * turn
        (ax, ay), (bx, by) = around(x, y, radius, a), around(x, y, radius, b)
        first, second = (ax - reach * sin(a), ay + reach * cos(a)), (bx + reach * sin(b), by - reach * cos(b))
        found.append((first, second, (bx, by)))
    return tuple(found)


def bar(start: Point, end: Point, width: float, width_at_end: float | None = None) -> Path:
    """A straight bar between two points, of one width or tapering."""
    (ax, ay), (bx, by) = start, end
    length = hypot(bx - ax, by - ay) or 1
    nx, ny = -(by - ay) / length / 2, (bx - ax) / length / 2
    near, far = width, width if width_at_end is None else width_at_end
    return polygon(
        (ax + nx * near, ay + ny * near),
        (bx + nx * far, by + ny * far),
        (bx - nx * far, by - ny * far),
        (ax - nx * near, ay - ny * near),
    )


@dataclass(frozen=True, slots=True)
class Paper:
    """Where millimetres of the locomotive land: `scale` units of the picture for one mm, `left` and `top` in mm."""

    scale: float
    left: float
    top: float

    def x(self, x: float) -> float:
        return round((x - self.left) * self.scale, 1)

    def y(self, y: float) -> float:
        return round((self.top - y) * self.scale, 1)

    def data(self, path: Path) -> str:
        """SVG path data, in relative steps with one decimal."""
        out, at, start = [], (0.0, 0.0), (0.0, 0.0)
        for letter, points, *rest in path.steps:
            if letter == "Z":
                out.append("z")
                at = start
                continue
            if letter == "O":
                text, at = self._circle(points[0], rest[0], at)
                out.append(text)
                start = at
                continue
            ends = [(self.x(x), self.y(y)) for x, y in points]
            text, at = _relative(letter, ends, at)
            out.append(text)
            start = at if letter == "M" else start
        return "".join(out)

    def _circle(self, centre: Point, radius: float, at: Point) -> tuple[str, Point]:
        r, turn = round(abs(radius) * self.scale, 1), int(radius > 0)
        left = (round(self.x(centre[0]) - r, 1), self.y(centre[1]))
        text, at = _relative("M", [left], at)
        half = f"a1 1 0 1 {turn} "  # an arc's radius grows to what its ends ask for, so it need not be written
        return f"{text}{half}{_short(2 * r)} 0{half}{_short(-2 * r)} 0z", at


def _relative(letter: str, ends: list[Point], at: Point) -> tuple[str, Point]:
    """One step in relative numbers; lines are relative to one another, the points of a curve to where it starts."""
    step = {"M": 1, "L": 1, "Q": 2, "C": 3}[letter]
    text = ""
    for n in range(0, len(ends), step):
        points = ends[n : n + step]
        numbers = [round(number, 1) for x, y in points for number in (x - at[0], y - at[1])]
        text += _upright(*numbers) if letter == "L" else letter.lower() + _row(numbers)
        at = points[-1]
    return text, at


def _upright(dx: float, dy: float) -> str:
    """A line, shorter to write where it lies level or stands upright."""
    if not dy:
        return f"h{_short(dx)}"
    return f"v{_short(dy)}" if not dx else f"l{_row([dx, dy])}"


def _row(numbers: list[float]) -> str:
    words = [_short(number) for number in numbers]
    return words[0] + "".join(word if word.startswith("-") else " " + word for word in words[1:])


def _short(number: float) -> str:
    text = f"{number:.1f}".removesuffix(".0")
    text = "0" if text == "-0" else text
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text
