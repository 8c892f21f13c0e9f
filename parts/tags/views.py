"""Scan: a photo of a tag is sent, read here and thrown away, and the page of what the tag hangs on opens."""

from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from core.access import signed_in
from core.domain.catalogue import may
from core.domain.refusals import Refusal

from ..domain.plain import listed
from ..domain.scanned import Scanned
from ..domain.tagcodes import grouped
from ..models import Tag
from ..photos.pictures import PictureError
from .tag_reading import read_tags
from .typed_tags import Named, named

CLOSER = (
    "Go closer until the pattern fills half the picture, hold still, and give it light. Or type the code beside it."
)
PICTURE = "picture"


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def scan(request):
    """The largest button of the phone: take a photo of a tag. Several tags in one photo are offered one by one."""
    if request.method != "POST":
        return show(request)
    read, refusals = read_photo(request)
    if refusals:
        return show(request, status=422, refusals=refusals)
    tags = Tag.objects.among(read.codes)
    strange = not_ours(read, tags)
    if len(tags) == 1 and not strange:
        return redirect(tags[0])
    return show(request, status=200 if tags else 404, refusals=strange, tags=tags)


def show(request, *, status=200, **more):
    may_move = may(request.user.role_names, "move")
    kit = request.session.get("kit")  # the one that this person is collecting
    page = {"page": "Scan a tag", "tags": [], "refusals": [], "may_move": may_move, "kit": kit}
    return render(request, "parts/tags/scan.html", page | more, status=status)


def read_photo(request) -> tuple[Scanned, list[Refusal]]:
    """What the tags in the photo that was sent say, or why there is nothing to go by."""
    file = request.FILES.get(PICTURE)
    if file is None:
        return Scanned(), [Refusal(PICTURE, "No photo came.", "Take one of the tag, or type its code.")]
    try:
        read = read_tags(file)
    except PictureError as trouble:
        return Scanned(), [Refusal(PICTURE, str(trouble), "Or type the code that stands on the tag.")]
    if not read:
        return read, [Refusal(PICTURE, "No tag could be read in this photo.", CLOSER)]
    return read, []


def tags_sent(request) -> Named:
    """What the tags that were sent hang on: in a photo, or typed."""
    if PICTURE not in request.FILES:
        return named([request.POST.get("code", "")], typed=True)
    read, refusals = read_photo(request)
    found = named(read.codes)
    found.refusals[:0] = refusals
    return found


def not_ours(read: Scanned, tags: list[Tag]) -> list[Refusal]:
    """In words: codes that were never printed here, and patterns that are no tags."""
    known = {tag.code for tag in tags}
    found = []
    if unknown := [grouped(code) for code in read.codes if code not in known]:
        sentence = f"The photo shows {listed(unknown)}, and no such tag was ever printed here."
        found.append(Refusal("unknown", sentence, "It may belong to another works' register."))
    if read.others:
        sentence = f"A pattern in the photo is no tag: it says “{'”, “'.join(read.others[:3])}”."
        found.append(Refusal("no-tag", sentence, "Take the photo so that only the tag is in it."))
    return found
