"""Photos: sent from a phone, shown to whoever is signed in."""

import os
import stat
from io import BytesIO
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from parts.actions.tags import issue, unused
from parts.models import Photo
from parts.photos import writers as photos
from tests.as_shown import text_of
from tests.parts.photos.test_pictures import png_header
from tests.pictures import a_broken_photo, a_photo, not_a_photo
from tests.tables import for_each


@pytest.fixture
def shed(client, people):
    client.force_login(people.volunteer)
    return client


@pytest.fixture
def piece(works):
    return works.piece()


@pytest.fixture
def picture(piece, people) -> Photo:
    return photos.add([a_photo(size=(2000, 1500))], piece, people.volunteer, caption="as found").photos[0]


def sent_to(thing) -> str:
    return f"/t/{thing.tags.get(current=True).code}/photos"


def body(answer) -> bytes:
    return b"".join(answer.streaming_content)


# --- sending


def test_several_photos_are_sent_at_once(shed, piece):
    answer = shed.post(sent_to(piece), {"photos": [a_photo(), a_photo()], "caption": "as found"})
    assert (answer.status_code, answer.url) == (302, sent_to(piece).removesuffix("/photos"))
    assert piece.photos.filter(caption="as found").count() == 2
    assert "2 photos of horn guide kept." in text_of(shed.get(sent_to(piece)))


def test_a_large_photo_that_arrives_as_a_file_is_kept_for_its_owner_only(shed, piece, settings):
    settings.FILE_UPLOAD_MAX_MEMORY_SIZE = 0
    sent = a_photo(size=(3000, 2000))
    assert shed.post(sent_to(piece), {"photos": [sent, not_a_photo()]}).status_code == 422
    photo = piece.photos.get()
    original = photos.originals().path(photos.original_name(photo))
    sent.seek(0)
    assert Path(original).read_bytes() == sent.read()
    assert os.name == "nt" or stat.S_IMODE(os.stat(original).st_mode) == 0o600


def test_positions_and_places_have_photos_too(shed, works):
    position = works.plain_place()
    for thing, address in ((position, f"/p/{position.pk}/photos"), (works.crate, f"/where/{works.crate.pk}/photos")):
        assert shed.post(address, {"photos": a_photo()}).url == thing.get_absolute_url()
        assert thing.photos.count() == 1


def test_the_tag_of_a_crate_leads_to_photos_of_the_crate(shed, works, people):
    issue(works.crate, people.storekeeper)
    shed.post(sent_to(works.crate), {"photos": a_photo()})
    assert works.crate.photos.count() == 1


def test_the_good_ones_are_kept_and_the_bad_ones_named(shed, piece):
    files = [a_photo("a.jpg"), not_a_photo("b.pdf"), a_broken_photo("c.jpg")]
    answer = shed.post(sent_to(piece), {"photos": files, "caption": "crack at the <root>"})
    assert answer.status_code == 422
    text = text_of(answer)
    assert "Not all were kept" in text
    assert "Photo 2 of 3, b.pdf: This file is not a picture we can read." in text
    assert "Photo 3 of 3, c.jpg: This picture is cut short or damaged." in text
    assert "1 photo of horn guide kept. Do not send those again." in text
    assert 'value="crack at the &lt;root&gt;"' in text
    assert piece.photos.count() == 1


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
def test_whatever_else_is_among_them_is_named_and_refused_and_the_photos_kept(shed, piece):
    """A bomb of a picture, a renamed program, a drawing with a script, a cut JPEG; and a good photo with a name that
    would climb out of the folder."""
    bad = {
        "bomb.png": png_header(60_000, 60_000),
        "holiday.jpg": b"MZ\x90\x00" + bytes(500),
        "drawing.svg": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        "cut.jpg": a_broken_photo().read(),
    }
    files = [SimpleUploadedFile(name, content, "image/jpeg") for name, content in bad.items()]
    climbing = a_photo("axlebox.jpg")
    climbing.name = climbing._name = "../../../etc/axlebox.jpg"
    answer = shed.post(sent_to(piece), {"photos": [*files, climbing, a_photo("plain.jpg")]})
    assert answer.status_code == 422
    text = text_of(answer)
    for number, name in enumerate(bad, 1):
        assert f"Photo {number} of 6, {name}: " in text
    assert "2 photos of horn guide kept." in text
    assert piece.photos.count() == 2
    assert all(len(photo.name) == 32 and int(photo.name, 16) for photo in piece.photos.all())


@for_each(
    ("entered", "told"),
    [
        ({}, "Photos: none was chosen."),
        ({"photos": not_a_photo("<b>.pdf")}, "Photo &lt;b&gt;.pdf: This file is not a picture"),
        ({"photos": a_photo("x" * 300 + ".jpg"), "caption": "y" * 201}, "What it shows: 201 characters"),
    ],
)
def test_what_cannot_be_kept_is_told(shed, piece, entered, told):
    answer = shed.post(sent_to(piece), entered)
    assert answer.status_code == 422
    assert told in text_of(answer)
    assert not Photo.objects.exists()


def test_the_same_photo_sent_twice_is_kept_once_and_said_so(shed, piece):
    sent = a_photo()
    for _ in range(2):
        sent.seek(0)
        answer = shed.post(sent_to(piece), {"photos": sent}, follow=True)
    assert piece.photos.count() == 1
    assert "1 photo was here already, and is kept once." in text_of(answer)


def test_a_request_too_large_is_told_what_to_do(shed, piece, settings):
    settings.LARGEST_UPLOAD = 1000
    answer = shed.post(sent_to(piece), {"photos": a_photo()})
    assert answer.status_code == 413
    assert "Send fewer photos at a time." in text_of(answer)
    assert not Photo.objects.exists()


def test_too_many_files_are_told_what_to_do(shed, piece, settings):
    settings.DATA_UPLOAD_MAX_NUMBER_FILES = 2
    answer = shed.post(sent_to(piece), {"photos": [a_photo(), a_photo(), a_photo()]})
    assert answer.status_code == 400
    assert "send fewer at a time" in text_of(answer)


def test_who_may_not_take_photos_is_told_so(client, people, piece):
    client.force_login(people.trustee)
    answer = client.post(sent_to(piece), {"photos": a_photo()})
    assert answer.status_code == 403
    assert "do not allow “photograph”" in text_of(answer)
    assert 'type="file"' not in text_of(client.get(sent_to(piece)))


def test_a_stranger_signs_in_first(client, piece, picture):
    for address in (sent_to(piece), f"/photo/{picture.name}/", f"/photo/{picture.name}/large.jpg"):
        assert client.get(address).url.startswith("/sign-in/")
    assert client.post(sent_to(piece), {"photos": a_photo()}).url.startswith("/sign-in/")


def test_tags_that_hang_on_nothing_have_no_photos(shed, db):
    assert shed.get(f"/t/{unused(1)[0].code}/photos").status_code == 404
    assert shed.get("/t/7K3M9QZ2/photos").status_code == 404
    assert shed.get("/p/99999/photos").status_code == 404
    assert shed.get("/where/99999/photos").status_code == 404


def test_other_methods_are_refused(shed, piece, picture):
    assert shed.put(sent_to(piece)).status_code == 405
    assert shed.post(f"/photo/{picture.name}/large.jpg").status_code == 405
    assert shed.post(f"/photo/{picture.name}/").status_code == 405


def test_queries_do_not_grow_with_the_photos(shed, piece, people, django_assert_num_queries):
    photos.add([a_photo() for _ in range(4)], piece, people.volunteer)
    shed.get(sent_to(piece))
    with django_assert_num_queries(6):
        shed.get(sent_to(piece))


# --- showing


@pytest.mark.parametrize(("size", "shape"), [("large", (1600, 1200)), ("small", (320, 240))])
def test_a_picture_is_served_as_a_picture_and_kept_by_the_browser_only(shed, picture, size, shape):
    answer = shed.get(f"/photo/{picture.name}/{size}.jpg")
    headers = answer.headers
    assert Image.open(BytesIO(body(answer))).size == shape
    assert headers["Content-Type"] == "image/jpeg"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Content-Disposition"] == f'inline; filename="{picture.name}-{size}.jpg"'
    assert set(headers["Cache-Control"].split(", ")) == {"private", "max-age=31536000", "immutable"}
    assert "Cookie" in headers["Vary"]


def test_a_browser_that_has_it_is_told_so_without_a_file(shed, picture):
    address = f"/photo/{picture.name}/small.jpg"
    etag = shed.get(address).headers["ETag"]
    answer = shed.get(address, headers={"if-none-match": etag})
    assert (answer.status_code, answer.content) == (304, b"")
    assert "private" in answer.headers["Cache-Control"]


def test_a_picture_costs_the_session_and_the_person_only(shed, picture, django_assert_num_queries):
    address = f"/photo/{picture.name}/small.jpg"
    shed.get(address)
    with django_assert_num_queries(2):
        shed.get(address)


@for_each(
    "address",
    [
        "/photo/{}/original.jpg",
        "/photo/{}/huge.jpg",
        "/photo/nothing/large.jpg",
        "/photo/..%2F..%2Fcotter/large.jpg",
        "/photo/{}.jpg",
        "/originals/{}.jpg",
        "/media/{}-large.jpg",
        "/pictures/{}-large.jpg",
    ],
)
def test_no_other_file_has_an_address(shed, picture, address):
    assert shed.get(address.format(picture.name)).status_code == 404


def test_the_page_of_a_photo_says_who_and_when_and_of_what(shed, piece, picture):
    text = text_of(shed.get(f"/photo/{picture.name}/"))
    assert "as found" in text
    assert "Added by Volunteer on" in text
    assert f'href="{sent_to(piece).removesuffix("/photos")}"' in text
    assert shed.get("/photo/nothing/").status_code == 404
