"""What is boxed up, what came off again behind it, and what the inspecting body asked for. Invented."""

from io import BytesIO

from django.core.files.base import ContentFile

from inspections.boxing_up.writers import box_up
from inspections.return_to_service import writers as returning
from parts.photos import writers as photos

from .drawings import running
from .lives import World, do, refit
from .pictures import drawn

ASKED_BY = "Tindle & Marsh, inspecting body (invented)"
ASKED = (  # what must be shown, and by what it is shown so far
    ("Buffing and drawgear put together and checked", "boxing up of the buffing and drawgear"),
    ("Crack check of the welded frame plate after stress relief", "record in the file of the LH frame plate"),
    ("Hydraulic test of the boiler, witnessed", ""),
    ("Brake test on a braked train", ""),
)


def drawgear_boxed_up(world: World):
    yield 7
    _photograph(world, "buffing-drawgear", running.buffer, "Springs home, every cotter in sight")
    _box_up(world, "buffing-drawgear", world.cast.bram, world.cast.ines, tools=9, rags=4)


def stretcher_off_again(world: World):
    """The frames were boxed up too early: a stretcher came off for its bolts, and the record is void."""
    yield 6
    _photograph(world, "main-frames", running.frame_plate, "Between the frames, looking forward")
    _box_up(world, "main-frames", world.cast.ines, world.cast.bram, tools=14, rags=6)
    yield 4
    piece = world.live("main-frames", "frame stretcher", end="middle")
    do(world, "take off", piece, world.cast.bram, reason="Two of its bolts were a drive fit no longer")
    refit(world, piece)


def return_list(world: World):
    yield 5
    overhaul = world.locomotive.open_overhaul()
    for words, shown in ASKED:
        item = returning.ask_for(overhaul, world.cast.ada, words=words, asked_by=ASKED_BY)
        if shown:
            returning.tick(item, world.cast.maud, by_what=shown)


def _photograph(world: World, code: str, kind, caption: str) -> None:
    file = BytesIO()
    drawn(kind).save(file, "JPEG", quality=80)
    subassembly = world.locomotive.subassemblies.get(code=code)
    shot = ContentFile(file.getvalue(), name=f"{code}.jpg")
    photos.add([shot], subassembly, world.cast.bram, caption=f"{caption} (drawn for the demo)")


def _box_up(world: World, code: str, by, checker, *, tools: int, rags: int) -> None:
    world.standings.catch_up()
    box_up(
        world.locomotive.subassemblies.get(code=code), by, checker=checker.pk, tools_in=tools, tools_out=tools,
        rags_in=rags, rags_out=rags, seen="Wiped out and oiled; every locking device seen by both of us with a lamp.",
    )  # fmt: skip


STORIES = (drawgear_boxed_up, stretcher_off_again, return_list)
