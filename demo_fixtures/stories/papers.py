"""The drawings that were found, with two that disagree; and what is left of the patterns."""

from collections.abc import Iterable
from fractions import Fraction
from io import BytesIO

from django.core.files.base import ContentFile

from parts.domain.pattern_words import PatternKind, PatternState
from parts.drawings.writers import drawings
from parts.foundry.writers import patterns
from parts.models import Drawing, Position
from parts.work.writers import renewals

from ..drawings import motion, running
from ..lives import World
from ..pictures import drawn

BOX = "railway's archive, plan chest 3 (invented)"
FOUND = (  # number, title, date, original, what it shows (subassembly and name), the drawing that stands for its scan
    ("742/12", "cylinder, outside", "1910-11-02", BOX, ("cylinders-outside", "cylinder casting"), motion.cylinder),
    ("742/13", "cylinder covers", "1910-11-09", BOX, ("cylinders-outside", "cylinder cover"), motion.cover),
    ("742/31", "sandbox and gear", "1911", "lost; a tracing was found", ("sanding", "sandbox"), None),
    ("GA 742", "general arrangement", "1911-03-31", BOX, None, None),
    ("S 88", "cylinder covers, as altered", "1937", "with a former fitter's family (invented)",
     ("cylinders-outside", "cylinder cover"), None),
    ("742/40", "wheelset, driving", "", BOX, ("wheelset-driving", "wheelset"), running.wheelset),
)  # fmt: skip


def drawings_found(world: World):
    """Most came out of one plan chest; one hung on a wall."""
    by, known = world.cast.bram, {}
    yield 246
    for number, title, dated, original, shows, kind in FOUND:
        places: Iterable[Position] = ()
        if shows:
            code, name = shows
            places = world.locomotive.positions.filter(subassembly__code=code, name=name, retired=False, part_of=None)
        known[number] = drawings.add_drawing(
            by, number=number, title=title, dated=dated, original=original, positions=places, scan=kind and scan(kind)
        )
    for number in ("742/12", "742/13", "742/31", "GA 742", "742/40"):
        drawings.good_for(
            known[number], by, locomotive=world.locomotive, how="on the drawing", note="Order 742 in the title block."
        )
    drawings.good_for(
        known["S 88"], by, locomotive=world.locomotive, how="from a note on it", note="“also No. 5”, in pencil."
    )
    drawings.good_for(known["S 88"], by, words="the two sister engines, scrapped", how="by tradition")
    yield 238
    cover = world.locomotive.positions.get(
        subassembly__code="cylinders-outside", name="cylinder cover", side="RH", end="front"
    )
    covers = drawings.note_conflict(
        cover, by, about="studs", note="The old flange shows plugged holes between the present ones.",
        sides=[(known["742/13"], "12 studs, 3/4 in, on 19 1/4 in"), (known["S 88"], "16 studs, 5/8 in, on 19 1/4 in")],
    )  # fmt: skip
    yield 229
    drawings.settle_conflict(
        covers, world.cast.maud, rests_on=known["S 88"],
        settled="The cylinder has 16 holes on that circle: altered, and the covers with it.",
    )  # fmt: skip
    yield 41
    casting = world.locomotive.positions.get(subassembly__code="cylinders-outside", name="cylinder casting", side="RH")
    drawings.note_conflict(
        casting, by, about="bore",
        sides=[(known["742/12"], "14 1/2 in"), (Drawing.objects.get(number="GA 742"), "15 in")],
    )  # fmt: skip


def scan(kind) -> ContentFile:
    """A sheet of the demo's own drawings, as a scan would be."""
    file = BytesIO()
    drawn(kind).save(file, "PNG")
    return ContentFile(file.getvalue(), name="scan.png")


def patterns_left(world: World):
    """In the loft under the roof: some sound, some with woodworm, one out at the foundry."""
    cast, lay = world.cast, world.places["pattern loft"]
    outer = world.locomotive.positions.filter(retired=False, part_of=None)
    yield 233
    cover = patterns.add_pattern(
        cast.bram, name="cylinder cover, RH front", location=lay, drawing="742/13; S 88",
        condition="The broken cover itself, to be made up with wood and filler.", marks="RF",
        positions=outer.filter(name="cylinder cover", side="RH", end="front"),
        allows=str(Fraction(0)), allows_as_written="0 in per foot", allows_known="it is a casting and no pattern",
    )  # fmt: skip
    blocks = patterns.add_pattern(
        cast.nell, name="brake block", location=lay, drawing="742/55", marks="742 BB", condition="Sound pine, shellacked.",
        positions=outer.filter(name="brake block"), allows="1/96", allows_as_written="1/8 in per foot",
        allows_known="from a note on it", made_before=6, made_before_note="Pencil strokes inside, to 1958.",
    )  # fmt: skip
    chimney = patterns.add_pattern(
        cast.nell, name="chimney, upper half", location=lay, condition="Woodworm; one lag is missing.",
        positions=outer.filter(name="chimney"),
    )  # fmt: skip
    patterns.add_pattern(
        cast.nell,
        kind=PatternKind.CORE_BOX,
        name="chimney",
        location=lay,
        goes_with=chimney,
        condition="One half only.",
    )
    yield 226
    renewals.choose_pattern(cover.positions.get().renewals.get(), cover, cast.ada)
    patterns.change_state(cover, cast.bram, to=PatternState.CHECKED, remark="Flange and bore allow for machining.")
    yield 216
    patterns.change_state(cover, cast.bram, to=PatternState.MENDED, remark="Built up 6 mm, filled, painted.")
    yield 120
    patterns.change_state(blocks, cast.bram, to=PatternState.CHECKED, remark="Measured against 742/55: to size.")
    yield 70
    patterns.change_state(
        blocks, cast.nell, to=PatternState.AT_FOUNDRY, firm=world.firms["foundry"], promised_back=world.clock.ago(14),
        remark="For twelve blocks.",
    )  # fmt: skip


STORIES = (drawings_found, patterns_left)
