"""Pictures of the demo's pieces: drawn, and said to be drawn, with the tag on each as it would lie beside the piece."""

from functools import cache
from io import BytesIO
from pathlib import Path

from django.core.files.base import ContentFile
from PIL import Image, ImageDraw, ImageFont, ImageOps

from parts.domain.tagcodes import grouped
from parts.labels import fonts
from parts.models import Component, Photo, Position
from parts.photos import writers as photos

from .clock import Story
from .drawings import fittings, motion, running
from .drawings.pen import HEIGHT, WIDTH, Pen
from .lives import World

KINDS = (  # the first drawing of which a word stands in a piece's name is the one
    (fittings.bracket, ("bracket",)),
    (fittings.number_plate, ("number plate", "works plate")),
    (motion.bush, ("gland", "bush", "hook spring")),
    (motion.pin, ("cotter", " pin")),
    (running.hanger, ("buckle", "hanger")),
    (running.wheelset, ("wheelset",)),
    (running.wheel, ("wheel centre",)),
    (running.tyre, ("tyre",)),
    (motion.brass, ("axlebox brass", "big-end brass")),
    (running.axlebox, ("axlebox",)),
    (running.axle, ("axle",)),
    (fittings.safety_valve, ("safety valve", "relief valve")),
    (motion.piston, ("piston", "valve spindle")),
    (motion.slide_valve, ("slide valve",)),
    (running.frame_plate, ("frame plate",)),
    (running.horn_guide, ("horn guide",)),
    (running.spring, ("bearing spring", "buffer spring")),
    (running.plain_plate, ("buffer beam", "running plate", "sheet", "splasher", "valance", "footstep")),
    (running.buffer, ("buffer",)),
    (running.draw_hook, ("draw hook", "screw coupling")),
    (motion.cylinder, ("cylinder casting",)),
    (fittings.stays, ("cover studs", "stays")),
    (motion.cover, ("cover", "filler lid", "smokebox door")),
    (motion.crosshead, ("crosshead",)),
    (motion.slide_bar, ("slide bar",)),
    (motion.coupling_rod, ("coupling rod",)),
    (motion.connecting_rod, ("connecting rod",)),
    (motion.expansion_link, ("expansion link",)),
    (motion.lever, ("lever", "radius rod", "eccentric rod", "union link", "lifting link", "return crank")),
    (fittings.tube_plate, ("smokebox tubeplate", "firebox tubeplate")),
    (fittings.tubes, ("small tubes",)),
    (fittings.boiler_plate, ("barrel plate", "dome barrel")),
    (fittings.gauge, ("pressure gauge", "vacuum gauge")),
    (fittings.lamp, ("lamp with",)),
    (fittings.grate_bars, ("grate bars",)),
    (fittings.brake_block, ("brake block",)),
    (fittings.tank, ("side tank", "bunker plate")),
    (fittings.pipe, ("pipe",)),
    (fittings.valve, ("injector steam valve", "blowdown valve", "stop valve", "manifold", "clack box")),
)

DAYS = (  # how many days ago pictures were taken, how many, what they show, and on which paper
    (258, 14, "As it came off", "buff"),
    (168, 12, "After cleaning", "grey"),
    (88, 10, "On the bench", "blue"),
    (9, 8, "As it lies now", "grey"),
)
PAPERS = {  # ink, paper, and the strip below
    "buff": ("#2e2418", "#f3ead6", "#e7dabd"),
    "grey": ("#22272b", "#f1f2ee", "#dfe3de"),
    "blue": ("#14283c", "#e9f0f4", "#d3e0e8"),
}
RED = "#a3302a"
READ_ONE_WAY = (fittings.gauge, fittings.number_plate)
MOST_OF_A_KIND = 2
FONTS = Path(fonts.__file__).with_name("fonts")


def picture_stories(world: World) -> list[Story]:
    """Some forty pictures, taken over the year."""
    seen: dict = {}
    return [_an_afternoon(world, seen, *day) for day in DAYS]


def _an_afternoon(world: World, seen: dict, days: int, count: int, caption: str, paper: str) -> Story:
    """Somebody goes round with a camera: kinds of which there are few pictures come first."""
    yield days
    taken = Component.objects.live().filter(photos=None, locomotive=world.locomotive).select_related("place")
    pieces = [(piece, kind) for piece in taken.order_by("id") if (kind := kind_of(piece.name))]
    for times in range(MOST_OF_A_KIND):
        for piece, kind in pieces:
            if count and seen.get(kind, 0) == times:
                seen[kind] = times + 1
                count -= 1
                hang(world, piece, kind, caption, paper)


def hang(world: World, piece: Component | Position, kind, caption: str, paper: str) -> Photo:
    """A picture of a piece, or of a place and what is left there."""
    by = world.choose((world.cast.pim, world.cast.wren, world.cast.nell))
    shot = ContentFile(picture(piece, kind, paper), name=f"{piece.name}.jpg")
    added = photos.add([shot], piece, by, caption=f"{caption} (drawn for the demo)")
    return added.photos[0]


def kind_of(name: str):
    return next((kind for kind, words in KINDS if any(word in name for word in words)), None)


@cache
def drawn(kind) -> Image.Image:
    pen = Pen()
    kind(pen)
    return pen.finished()


def picture(piece: Component | Position, kind, paper: str) -> bytes:
    """A JPEG of the piece, a left-hand one seen from its other side, with its tag in clear below."""
    ink, ground, strip = PAPERS[paper]
    lines = drawn(kind)
    if piece.side == "LH" and kind not in READ_ONE_WAY:
        lines = ImageOps.mirror(lines)
    image = ImageOps.colorize(lines, ink, ground)
    draw = ImageDraw.Draw(image)
    if kind is motion.cracked_cylinder:
        draw.ellipse((844, 290, 1184, 630), outline=RED, width=6)
        draw.text((1280, 160), "84 mm", fill=RED, font=_font("DejaVuSansCondensed-Bold", 40))
    _plate(draw, piece, ink, strip)
    file = BytesIO()
    image.save(file, "JPEG", quality=85)
    return file.getvalue()


def _plate(draw, piece: Component | Position, ink: str, strip: str) -> None:
    """What the piece is, which way round, and its tag."""
    draw.rectangle((0, HEIGHT - 150, WIDTH, HEIGHT), fill=strip)
    draw.line((0, HEIGHT - 150, WIDTH, HEIGHT - 150), fill=ink, width=3)
    draw.text((60, HEIGHT - 128), piece.name, fill=ink, font=_font("DejaVuSansCondensed-Bold", 50))
    place = piece if isinstance(piece, Position) else piece.place
    which = place.way_round if place else "no place known"
    draw.text(
        (60, HEIGHT - 62), f"{which}   drawn for the demo".strip(), fill=ink, font=_font("DejaVuSansCondensed", 34)
    )
    code = "" if isinstance(piece, Position) else grouped(piece.tags.current_code())
    draw.text((WIDTH - 60, HEIGHT - 75), code, fill=ink, font=_font("DejaVuSansMono-Bold", 68), anchor="rm")


@cache
def _font(name: str, size: int):
    return ImageFont.truetype(str(FONTS / f"{name}.ttf"), size)
