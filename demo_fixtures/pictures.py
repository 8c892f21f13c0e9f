"""Pictures of the demo's pieces: drawn by this file, in the manner of a works' drawing office, and said to be drawn."""

from functools import cache
from io import BytesIO
from math import cos, pi, sin
from pathlib import Path

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageDraw, ImageFont

from parts.actions import photos
from parts.labels import fonts
from parts.models import Component

from .lives import World

WIDE, HIGH, TWICE = 1600, 1200, 2  # drawn at twice the size and made smaller, so that lines are smooth
PAPER, GRID, INK, WASH, RED = "#f6f1e4", "#e6dfcc", "#1d2a3f", "#d9d3c2", "#a3302a"
MOST = 48
FONTS = Path(fonts.__file__).with_name("fonts")


class Pen:
    """A drawing in units of the finished picture."""

    def __init__(self):
        self.image = Image.new("RGB", (WIDE * TWICE, HIGH * TWICE), PAPER)
        self.draw = ImageDraw.Draw(self.image)
        for x in range(0, WIDE, 40):
            self.line((x, 0), (x, HIGH), width=1, ink=GRID)
        for y in range(0, HIGH, 40):
            self.line((0, y), (WIDE, y), width=1, ink=GRID)

    def line(self, *points, width=6, ink=INK):
        self.draw.line([(x * TWICE, y * TWICE) for x, y in points], fill=ink, width=width * TWICE, joint="curve")

    def shape(self, *points, wash=WASH, width=6):
        self.draw.polygon([(x * TWICE, y * TWICE) for x, y in points], fill=wash)
        self.line(*points, points[0], points[1], width=width)

    def box(self, left, top, right, bottom, wash=WASH, width=6, radius=0):
        spot = [left * TWICE, top * TWICE, right * TWICE, bottom * TWICE]
        self.draw.rounded_rectangle(spot, radius * TWICE, fill=wash, outline=INK, width=width * TWICE)

    def ring(self, x, y, radius, wash=None, width=6, ink=INK):
        spot = [(x - radius) * TWICE, (y - radius) * TWICE, (x + radius) * TWICE, (y + radius) * TWICE]
        self.draw.ellipse(spot, fill=wash, outline=ink, width=width * TWICE)

    def hatch(self, left, top, right, bottom, step=22):
        """The slanting lines of a cut face, kept inside the box."""
        high = bottom - top
        for start in range(int(left - high), int(right), step):
            x1, y1, x2, y2 = start, bottom, start + high, top
            if x1 < left:
                y1, x1 = bottom - (left - x1), left
            if x2 > right:
                y2, x2 = top + (x2 - right), right
            self.line((x1, y1), (x2, y2), width=2)

    def centre(self, *points):
        """A centre line: long and short dashes."""
        (x1, y1), (x2, y2) = points
        long = max(abs(x2 - x1), abs(y2 - y1))
        at = 0
        while at < long:
            for dash, gap in ((44, 14), (10, 14)):
                a, b = at / long, min(at + dash, long) / long
                self.line((x1 + (x2 - x1) * a, y1 + (y2 - y1) * a), (x1 + (x2 - x1) * b, y1 + (y2 - y1) * b), width=2)
                at += dash + gap

    def bolts(self, x, y, radius, count, size=14):
        for turn in range(count):
            angle = 2 * pi * turn / count + pi / count
            self.ring(x + radius * cos(angle), y + radius * sin(angle), size, wash=PAPER, width=4)


def wheel(pen):
    x, y = 800, 560
    pen.ring(x, y, 470, wash=WASH)
    pen.ring(x, y, 425, wash=PAPER)
    pen.ring(x, y, 385, width=4)
    for spoke in range(12):
        angle = 2 * pi * spoke / 12
        for lean in (-0.035, 0.035):
            inner, outer = (x + 110 * cos(angle + lean * 3), y + 110 * sin(angle + lean * 3)), None
            outer = (x + 385 * cos(angle + lean), y + 385 * sin(angle + lean))
            pen.line(inner, outer, width=5)
    pen.ring(x, y, 115, wash=WASH)
    pen.ring(x, y, 70, wash=PAPER)
    pen.ring(x + 190, y, 60, wash=WASH)
    pen.ring(x + 190, y, 34, wash=PAPER, width=4)
    pen.centre((x - 540, y), (x + 540, y))
    pen.centre((x, y - 520), (x, y + 520))


def axlebox(pen):
    pen.shape((470, 220), (1130, 220), (1130, 900), (1040, 900), (1040, 960), (560, 960), (560, 900), (470, 900))
    pen.box(400, 300, 470, 820)
    pen.box(1130, 300, 1200, 820)
    pen.ring(800, 620, 240, wash=PAPER)
    pen.draw.pieslice([x * TWICE for x in (560, 380, 1040, 860)], 180, 360, fill=WASH, outline=INK, width=6 * TWICE)
    pen.ring(800, 620, 185, wash=PAPER)
    pen.hatch(500, 250, 1100, 350)
    pen.box(700, 160, 900, 220, radius=8)
    pen.centre((340, 620), (1260, 620))
    pen.centre((800, 120), (800, 1000))


def cylinder(pen):
    pen.box(330, 330, 1270, 840, radius=26)
    pen.box(280, 300, 330, 870)
    pen.box(1270, 300, 1320, 870)
    pen.box(420, 470, 1180, 720, wash=PAPER)
    pen.hatch(345, 350, 1255, 460)
    pen.hatch(345, 730, 1255, 820)
    pen.box(520, 200, 1080, 330, radius=10)
    for left in (580, 760, 940):
        pen.box(left, 230, left + 80, 330, wash=PAPER)
    pen.centre((200, 595), (1400, 595))
    for y in (350, 470, 720, 820):
        pen.ring(305, y, 11, wash=PAPER, width=4)
        pen.ring(1295, y, 11, wash=PAPER, width=4)


def rod(pen):
    pen.shape((420, 540), (1180, 500), (1180, 660), (420, 620))
    pen.ring(360, 580, 150, wash=WASH)
    pen.ring(1240, 580, 170, wash=WASH)
    pen.ring(360, 580, 78, wash=PAPER)
    pen.ring(1240, 580, 92, wash=PAPER)
    pen.shape((500, 565), (1080, 545), (1080, 615), (500, 595), wash=PAPER, width=4)
    pen.box(325, 395, 395, 440, radius=6)
    pen.box(1205, 372, 1275, 420, radius=6)
    pen.centre((140, 580), (1460, 580))


def spring(pen):
    for leaf in range(10):
        half, y = 560 - leaf * 48, 430 + leaf * 40
        bow = [(800 + half * t / 20, y + 120 * (1 - (t / 20) ** 2)) for t in range(-20, 21)]
        pen.line(*bow, width=16)
        pen.line(*bow, width=10, ink=WASH)
    pen.box(720, 500, 880, 980, radius=10)
    pen.ring(240, 440, 44, wash=PAPER)
    pen.ring(1360, 440, 44, wash=PAPER)
    pen.centre((800, 340), (800, 1060))


def plate(pen):
    pen.shape(
        (220, 380),
        (1380, 380),
        (1380, 620),
        (1180, 620),
        (1180, 800),
        (1000, 800),
        (1000, 620),
        (620, 620),
        (620, 800),
        (440, 800),
        (440, 620),
        (220, 620),
    )
    for x in range(280, 1380, 110):
        pen.ring(x, 430, 17, wash=PAPER, width=4)
    for x in (700, 800, 900):
        pen.ring(x, 540, 40, wash=PAPER, width=5)
    pen.centre((160, 500), (1440, 500))


def valve(pen):
    pen.box(640, 300, 960, 800, radius=40)
    pen.box(560, 760, 1040, 840)
    pen.box(700, 200, 900, 300, radius=12)
    pen.line((800, 200), (800, 110), width=22)
    pen.line((640, 110), (960, 110), width=30)
    pen.box(960, 470, 1180, 640)
    pen.box(1180, 430, 1230, 680)
    pen.box(420, 470, 640, 640)
    pen.box(370, 430, 420, 680)
    pen.ring(800, 555, 95, wash=PAPER)
    pen.hatch(655, 690, 945, 750)
    pen.centre((300, 555), (1300, 555))
    pen.centre((800, 70), (800, 900))


def bracket(pen):
    pen.shape((420, 260), (520, 260), (520, 760), (1120, 760), (1120, 860), (420, 860))
    pen.shape((520, 420), (900, 760), (520, 760), width=5)
    for y in (330, 470, 610):
        pen.ring(470, y, 22, wash=PAPER, width=5)
    for x in (720, 880, 1040):
        pen.ring(x, 810, 22, wash=PAPER, width=5)
    pen.hatch(425, 770, 700, 855)


def tank(pen):
    pen.box(240, 330, 1360, 860, radius=18)
    for x in range(300, 1361, 80):
        for y in (370, 820):
            pen.ring(x, y, 9, wash=INK, width=2)
    pen.box(620, 260, 860, 330, radius=16)
    pen.line((420, 330), (420, 860), width=3)
    pen.line((1180, 330), (1180, 860), width=3)
    pen.line((330, 900), (1270, 900), width=20)
    pen.centre((180, 600), (1420, 600))


def pipe(pen):
    bend = (
        [(300, 380), (760, 380)]
        + [(760 + 230 * sin(t / 12 * pi / 2), 610 - 230 * cos(t / 12 * pi / 2)) for t in range(13)]
        + [(990, 900)]
    )
    pen.line(*bend, width=96)
    pen.line(*bend, width=84, ink=WASH)
    pen.box(250, 290, 300, 470)
    pen.box(900, 900, 1080, 950)
    pen.centre((200, 380), (1080, 380))
    pen.centre((990, 300), (990, 1010))


def pins(pen):
    for row in range(2):
        for column in range(4):
            left, top = 230 + column * 300, 300 + row * 330
            pen.box(left, top, left + 70, top + 120, radius=8)
            pen.box(left + 70, top + 28, left + 230, top + 92)
            pen.line((left + 200, top + 28), (left + 200, top + 92), width=3)


def casting(pen):
    pen.box(420, 420, 1180, 820, radius=60)
    pen.ring(620, 620, 130, wash=PAPER)
    pen.ring(980, 620, 130, wash=PAPER)
    pen.box(360, 800, 1240, 880)
    pen.bolts(620, 620, 165, 6, 12)
    pen.bolts(980, 620, 165, 6, 12)
    pen.hatch(700, 440, 900, 800)
    pen.centre((300, 620), (1300, 620))


KINDS = (  # the first word found in a piece's name chooses the drawing
    (("bracket", "hanger", "horn", "guide", "guard iron", "step"), bracket),
    (("wheelset", "wheel", "tyre", "axle "), wheel),
    (("axlebox", "brass", "keep"), axlebox),
    (("cylinder casting", "piston", "steam chest"), cylinder),
    (("rod", "link", "crosshead", "lever", "slide bar"), rod),
    (("spring",), spring),
    (("valve", "cock", "injector", "gauge", "whistle", "lubricator"), valve),
    (("tank", "bunker", "sandbox", "reservoir"), tank),
    (("pipe",), pipe),
    (("pins", "studs", "tubes", "stays", "plugs"), pins),
    (("plate", "sheet", "frame", "stretcher", "barrel", "door"), plate),
)


@cache
def drawing(kind) -> Image.Image:
    pen = Pen()
    kind(pen)
    return pen.image.resize((WIDE, HIGH), Image.Resampling.BOX)


def kind_of(name: str):
    return next((kind for words, kind in KINDS if any(word in name for word in words)), casting)


def picture(name: str, code: str, note: str = "") -> bytes:
    """A JPEG of a piece of this name, with its tag; a note is drawn in red where something was found."""
    image = drawing(kind_of(name)).copy()
    draw = ImageDraw.Draw(image)
    draw.rectangle((60, 1080, WIDE - 60, 1150), outline=INK, width=3)
    draw.text((80, 1096), f"{name}   {code}", fill=INK, font=_font(32))
    draw.text((WIDE - 80, 1100), "drawn for the demo", fill=INK, font=_font(26), anchor="ra")
    if note:
        draw.line([(700, 560), (742, 590), (776, 574), (822, 620), (868, 612)], fill=RED, width=7, joint="curve")
        draw.text((880, 640), note, fill=RED, font=_font(34))
    file = BytesIO()
    image.save(file, "JPEG", quality=82)
    return file.getvalue()


@cache
def _font(size: int):
    return ImageFont.truetype(str(FONTS / "DejaVuSans.ttf"), size)


def hang_pictures(world: World) -> None:
    """One drawing for each of some forty pieces, the interesting ones first; two more of the cracked cylinder."""
    cracked = world.pieces["cracked"]
    _hang(world, cracked, "84 mm", "Crack across the front port bridge")
    _hang(world, cracked, "", "As it came off")
    chosen = Component.objects.exclude(pk=cracked.pk).with_codes().select_related("place").order_by("id")
    seen = {}
    for piece in chosen:
        kind = kind_of(piece.name)
        seen[kind] = seen.get(kind, 0) + 1
        if seen[kind] <= MOST // len(KINDS):
            _hang(world, piece, "", "")


def _hang(world, piece, note, caption):
    code = piece.tags.current_code()
    shot = SimpleUploadedFile(f"{piece.name}.jpg", picture(piece.name, code, note), content_type="image/jpeg")
    photos.add([shot], piece, world.choose((world.cast.pim, world.cast.wren)), caption=caption)
