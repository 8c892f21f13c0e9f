"""The two pictures of a report: where a size stands between its limits, and a photo with the numbered marks on it."""

from reportlab.graphics.shapes import Drawing, Line, Polygon, Rect, String
from reportlab.lib.colors import Color, black, white
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable

from parts.labels.fonts import BOLD, PLAIN, ems, font
from parts.photos.writers import picture_name, shown

from ..cracks.crack_context import Marked
from ..domain.size_picture import SizePicture
from .letters import printable
from .pages import WIDTH

TALLEST = 120 * mm
TEXT = 9
FILLS = {"new": Color(0.25, 0.25, 0.25), "shop": Color(0.55, 0.55, 0.55), "scrapping": Color(0.8, 0.8, 0.8)}


def scale(picture: SizePicture) -> Drawing:
    """As on the screen, in greys: how good a stretch is, is told by its thickness."""
    top = picture.height
    drawing = Drawing(picture.width, top)
    for one in picture.stretches:
        if one.kind == "beyond":
            middle = top - picture.middle
            dashes = Line(one.x, middle, one.x + one.width, middle, strokeWidth=1, strokeDashArray=(3, 3))
            drawing.add(dashes)
        else:
            drawing.add(
                Rect(
                    one.x,
                    top - one.y - one.height,
                    one.width,
                    one.height,
                    fillColor=FILLS[one.kind],
                    strokeWidth=0,
                )
            )
    for mark in picture.marks:
        drawing.add(Line(mark.x, top - picture.middle, mark.x, top - mark.to, strokeWidth=0.6))
    for mark in picture.marks:  # over the lines of the others
        half = ems(printable(mark.text, PLAIN), PLAIN) * TEXT / 2
        drawing.add(
            Rect(
                mark.text_x - half,
                top - 2 - mark.text_y,
                2 * half,
                11,
                fillColor=white,
                strokeWidth=0,
                strokeColor=None,
            )
        )
        drawing.add(_text(mark.text_x, top - mark.text_y, mark.text))
    _value(drawing, picture, top)
    return drawing


def _value(drawing: Drawing, picture: SizePicture, top: float) -> None:
    if picture.at is None:
        return
    middle = top - picture.middle
    for x in picture.others:
        drawing.add(Line(x, middle - 9, x, middle + 9, strokeWidth=0.5))
    if picture.guard:
        low, high = picture.guard
        drawing.add(Line(low, middle + 19, high, middle + 19, strokeWidth=1.2))
        for x in picture.guard:
            drawing.add(Line(x, middle + 16, x, middle + 22, strokeWidth=1.2))
    points = [float(part) for pair in picture.arrow.split() for part in pair.split(",")]
    flipped = [top - value if at % 2 else value for at, value in enumerate(points)]
    drawing.add(Polygon(flipped, fillColor=black, strokeColor=white, strokeWidth=0.6))
    drawing.add(_text(picture.label_x, middle + 32, picture.label, BOLD))


def _text(x: float, y: float, text: str, name: str = PLAIN) -> String:
    font(name)
    return String(x, y, printable(text, name), fontName=name, fontSize=TEXT, textAnchor="middle")


class MarkedPhoto(Flowable):
    """The photo as wide as the page allows, with each mark ringed and numbered."""

    def __init__(self, marked: Marked):
        super().__init__()
        self.marked = marked
        photo = marked.photo
        self.scale = min(WIDTH / photo.width, TALLEST / photo.height)
        self.width, self.height = photo.width * self.scale, photo.height * self.scale

    def wrap(self, *room):
        return self.width, self.height + 2 * mm

    def draw(self):
        canvas, name = self.canv, picture_name(self.marked.photo.name, "large")
        if shown().exists(name):
            with shown().open(name) as file:
                canvas.drawImage(ImageReader(file), 0, 0, self.width, self.height)
        else:
            canvas.rect(0, 0, self.width, self.height)
            font(PLAIN)
            canvas.setFont(PLAIN, 9)
            canvas.drawCentredString(self.width / 2, self.height / 2, "The file of this photo is missing.")
        sizes = {part: float(size) * self.scale for part, size in self.marked.sizes.items()}
        for dot in self.marked.dots:
            self._mark(dot, sizes)

    def _mark(self, dot, sizes):
        canvas = self.canv
        x, y, tag_x, tag_y = (self._at(dot.x), self._at(dot.y, True), self._at(dot.tag_x), self._at(dot.tag_y, True))
        for colour, width in ((white, 3), (black, 1.2)):
            canvas.setStrokeColor(colour)
            canvas.setLineWidth(width)
            canvas.line(x, y, tag_x, tag_y)
            canvas.circle(x, y, max(sizes["ring"], 4))
        radius = max(sizes["disc"], 7)
        canvas.setFillColor(white)
        canvas.circle(tag_x, tag_y, radius, fill=1)
        canvas.setFillColor(black)
        font(BOLD)
        canvas.setFont(BOLD, radius * 1.2)
        canvas.drawCentredString(tag_x, tag_y - radius * 0.43, str(dot.number))

    def _at(self, pixels: str, upwards: bool = False) -> float:
        at = float(pixels) * self.scale
        return self.height - at if upwards else at
