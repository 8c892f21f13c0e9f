"""References: Pillow's own ImageOps.exif_transpose for the turning, Exif 2.3 (CIPA DC-008) for the tags.

The pictures are drawn here: eight coloured blocks, so that every turn of them looks different.
"""

import struct
import zlib
from datetime import datetime
from io import BytesIO

import numpy as np
import pytest
from PIL import ExifTags, Image, ImageChops, ImageCms, ImageOps, ImageStat
from PIL.PngImagePlugin import PngInfo

from parts.photos.pictures import PictureError, make_pictures

BLOCKS = np.array(
    [
        [(230, 20, 20), (20, 230, 20), (20, 20, 230), (230, 230, 20)],
        [(20, 230, 230), (230, 20, 230), (240, 240, 240), (10, 10, 10)],
    ],
    np.uint8,
)


def drawn(width: int, height: int, mode: str = "RGB") -> Image.Image:
    return Image.fromarray(BLOCKS).resize((width, height), Image.Resampling.NEAREST).convert(mode)


def noise(width: int, height: int) -> Image.Image:
    return Image.fromarray(np.random.default_rng(1).integers(0, 255, (height, width, 3), np.uint8))


def stored(picture: Image.Image, kind: str = "JPEG", **how) -> BytesIO:
    file = BytesIO()
    if kind == "HEIF":
        how["enc_params"] = {"preset": "ultrafast"}  # in a tenth of the time, and read as any other
    picture.save(file, kind, **how)
    file.seek(0)
    return file


def exif(*, orientation: int = 1, taken: str = "2026:03:14 09:26:53") -> Image.Exif:
    """As a phone writes it, place included."""
    notes = Image.Exif()
    notes[ExifTags.Base.Orientation] = orientation
    notes[ExifTags.Base.Make] = "Camera maker"
    notes.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    notes.get_ifd(ExifTags.IFD.GPSInfo).update({1: "N", 2: (50.0, 6.0, 7.0), 3: "E", 4: (14.0, 25.0, 3.0)})
    return notes


def opened(data: bytes) -> Image.Image:
    return Image.open(BytesIO(data))


def difference(a: Image.Image, b: Image.Image) -> float:
    """The mean difference of the values, where both have the same size."""
    assert a.size == b.size
    return float(np.mean(ImageStat.Stat(ImageChops.difference(a.convert("RGB"), b.convert("RGB"))).mean))


def refusal(file, **limits) -> str:
    with pytest.raises(PictureError) as caught:
        make_pictures(file, **limits)
    return str(caught.value)


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("size", [(1640, 820), (820, 1640), (160, 80)])
def test_a_picture_is_turned_as_it_was_taken(orientation, size):
    file = stored(drawn(*size), exif=exif(orientation=orientation))
    upright = ImageOps.exif_transpose(Image.open(file)).convert("RGB")
    made = make_pictures(file)
    for data in (made.large, made.small):
        picture = opened(data)
        assert difference(picture, upright.resize(picture.size, Image.Resampling.BOX)) < 4
    assert (made.width, made.height) == opened(made.large).size


@pytest.mark.parametrize(
    ("size", "large", "small"),
    [
        ((4000, 3000), (1600, 1200), (320, 240)),
        ((3000, 4000), (1200, 1600), (240, 320)),
        ((4000, 2250), (1600, 900), (320, 180)),
        ((1600, 1200), (1600, 1200), (320, 240)),
        ((300, 200), (300, 200), (300, 200)),  # never enlarged
        ((5000, 2), (1600, 1), (320, 1)),
        ((1, 1), (1, 1), (1, 1)),
    ],
)
def test_pictures_are_made_to_size_and_never_enlarged(size, large, small):
    made = make_pictures(stored(drawn(*size)))
    assert (opened(made.large).size, opened(made.small).size) == (large, small)
    assert opened(made.large).format == opened(made.small).format == "JPEG"


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_no_place_no_camera_and_no_comment_is_left(kind):
    extra = {"comment": b"secret yard"} if kind == "JPEG" else {}
    if kind == "PNG":
        extra["pnginfo"] = PngInfo()
        extra["pnginfo"].add_text("Comment", "secret yard")
    file = stored(drawn(400, 200), kind, exif=exif(), xmp=b"<x:xmpmeta>secret yard</x:xmpmeta>", **extra)
    assert b"secret yard" in file.getvalue()
    made = make_pictures(file)
    for data in (made.large, made.small):
        picture = opened(data)
        assert not picture.getexif()
        assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert b"secret" not in data
        assert b"Exif" not in data


@pytest.mark.parametrize(("kind", "name"), [("JPEG", "JPEG"), ("PNG", "PNG"), ("WEBP", "WebP"), ("HEIF", "HEIC")])
def test_each_format_gives_the_same_picture(kind, name):
    made = make_pictures(stored(drawn(800, 400), kind, quality=95))
    assert made.original_format == name
    assert difference(opened(made.large), drawn(800, 400)) < 4


def test_a_heic_is_turned_once_and_not_twice():
    """ISO/IEC 23008-12: the turn belongs to the picture and its decoder carries it out; Exif only tells of it."""
    tilted = Image.open(stored(drawn(400, 200), exif=exif(orientation=6), quality=95))
    made = make_pictures(stored(tilted, "HEIF", quality=95))
    assert difference(opened(made.large), drawn(400, 200).transpose(Image.Transpose.ROTATE_270)) < 4


def test_the_time_is_what_the_camera_noted():
    assert make_pictures(stored(drawn(80, 40), exif=exif())).taken == datetime(2026, 3, 14, 9, 26, 53)
    assert make_pictures(stored(drawn(80, 40))).taken is None
    assert make_pictures(stored(drawn(80, 40), exif=exif(taken="0000:00:00 00:00:00"))).taken is None


@pytest.mark.filterwarnings("ignore:Corrupt EXIF")
def test_a_damaged_note_of_the_camera_does_not_cost_the_picture():
    notes = b"Exif\x00\x00" + b"II*\x00\xff\xff\xff\xff" + b"\x99" * 40
    made = make_pictures(stored(drawn(80, 40), exif=notes))
    assert (made.taken, made.width) == (None, 80)


@pytest.mark.parametrize("mode", ["RGBA", "LA", "PA"])
def test_what_is_transparent_comes_out_white(mode):
    picture = drawn(400, 200).convert("RGBA")
    picture.putalpha(Image.new("L", picture.size, 0))
    picture = picture.convert(mode) if mode != "PA" else picture.quantize()
    made = opened(make_pictures(stored(picture, "PNG")).large)
    assert made.convert("RGB").getextrema() == ((255, 255),) * 3


def test_half_transparent_edges_do_not_darken():
    """A white disc on nothing, its colour black where it is transparent: mixed wrongly it gets a grey rim."""
    alpha = Image.new("L", (4000, 200), 0)
    alpha.paste(255, (0, 0, 2003, 200))
    picture = Image.composite(Image.new("RGB", alpha.size, "white"), Image.new("RGB", alpha.size, "black"), alpha)
    picture.putalpha(alpha)
    made = opened(make_pictures(stored(picture, "PNG")).large)
    assert made.getextrema()[0][0] > 250


def test_a_cmyk_jpeg_is_shown_in_its_colours():
    made = opened(make_pictures(stored(drawn(400, 200, "CMYK"), quality=95)).large)
    assert made.mode == "RGB"
    assert difference(made, drawn(400, 200)) < 6


@pytest.mark.parametrize("mode", ["L", "1", "P"])
def test_grey_and_palette_pictures_are_taken(mode):
    picture = drawn(400, 200).quantize() if mode == "P" else drawn(400, 200, mode)
    made = opened(make_pictures(stored(picture, "PNG")).large)
    assert difference(made, picture.convert("RGB")) < 6


def test_sixteen_bits_of_grey_keep_their_steps():
    ramp = np.tile(np.linspace(0, 65535, 400, dtype=np.uint16), (100, 1))
    made = opened(make_pictures(stored(Image.fromarray(ramp), "PNG")).large)
    assert np.abs(np.asarray(made.convert("L"), int)[50] - (ramp[0] >> 8)).max() < 4


def wide_profile() -> bytes:
    """sRGB with red and green changed over (ICC.1: the tags rXYZ and gXYZ): whether it is minded cannot be missed."""
    data = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    red, green = (data.index(tag, 128) for tag in (b"rXYZ", b"gXYZ"))
    data[red : red + 4], data[green : green + 4] = b"gXYZ", b"rXYZ"
    return bytes(data).replace("sRGB".encode("utf-16-be"), "odd!".encode("utf-16-be"))


def test_another_colour_space_is_brought_to_the_usual_one():
    made = make_pictures(stored(drawn(400, 200), icc_profile=wide_profile(), quality=95))
    red, green, blue = drawn(400, 200).split()
    assert difference(opened(made.large), Image.merge("RGB", (green, red, blue))) < 8


@pytest.mark.parametrize(
    "profile", [b"nothing of the kind", ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()]
)
def test_a_profile_nobody_can_use_leaves_the_plain_colours(profile):
    made = make_pictures(stored(drawn(400, 200), icc_profile=profile, quality=95))
    assert difference(opened(made.large), drawn(400, 200)) < 4


def test_a_jpeg_with_further_views_behind_it_is_a_jpeg():
    file = stored(drawn(2000, 1000), "MPO", save_all=True, append_images=[Image.new("RGB", (80, 40))])
    made = make_pictures(file)
    assert (made.original_format, made.width) == ("JPEG", 1600)
    assert difference(opened(made.large), drawn(1600, 800)) < 4


def test_an_animation_gives_its_first_picture():
    file = stored(drawn(80, 40), "WEBP", save_all=True, append_images=[Image.new("RGB", (80, 40))], lossless=True)
    assert difference(opened(make_pictures(file).large), drawn(80, 40)) < 8


@pytest.mark.parametrize(
    "data",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        b"MZ\x90\x00" + b"\x00" * 500,
        b"\x7fELF" + b"\x00" * 500,
        b"%PDF-1.7\n" + b"\x00" * 500,
        b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n",
        b"just words",
        b"\xff\xd8\xff",
        b"\x89PNG\r\n\x1a\n",
        b"RIFF\x00\x00\x00\x00WEBP",
        b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00",
    ],
)
def test_a_file_that_is_no_picture_is_refused_whatever_its_name(data):
    assert "not a picture" in refusal(BytesIO(data))


@pytest.mark.parametrize("kind", ["GIF", "TIFF", "BMP", "ICO", "PPM", "TGA", "PDF", "EPS"])
def test_other_kinds_of_picture_are_refused_naming_those_that_are_taken(kind):
    assert "JPEG, PNG, WebP or HEIC" in refusal(stored(drawn(40, 20), kind))


def test_an_empty_file_is_refused():
    assert "empty" in refusal(BytesIO())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_a_picture_cut_short_is_refused_and_never_shown_half(kind):
    for picture in (noise(400, 300), drawn(400, 300)):
        whole = stored(picture, kind).getvalue()
        for part in (0.02, 0.3, 0.5, 0.9, 0.97):
            assert refusal(BytesIO(whole[: int(len(whole) * part)])), part


def test_a_progressive_picture_cut_short_is_refused_too():
    whole = stored(drawn(3000, 2000), progressive=True).getvalue()
    assert "cut short" in refusal(BytesIO(whole[: len(whole) * 2 // 3]))


@pytest.mark.parametrize("picture", [drawn(300, 200), noise(300, 200)], ids=["plain", "busy"])
def test_a_png_damaged_anywhere_in_its_picture_is_refused(picture):
    whole = stored(picture, "PNG").getvalue()
    start, end = whole.index(b"IDAT") + 4, whole.index(b"IEND") - 8  # less its checksum and the next length
    for at in range(start, end, max(1, (end - start) // 25)):
        damaged = bytearray(whole)
        damaged[at] ^= 0xFF
        assert "damaged" in refusal(BytesIO(damaged))


def test_too_many_bytes_are_refused_with_both_sizes():
    file = stored(noise(700, 700), "PNG")
    assert "1.4 MiB, and 1 MiB is the most" in refusal(file, most_bytes=1024**2)
    assert make_pictures(file, most_bytes=len(file.getvalue())).width == 700


def test_too_many_pixels_are_refused_and_just_as_many_are_not():
    file = stored(drawn(2000, 1000))
    assert "more than 1 million pixels" in refusal(file, most_pixels=1_000_000)
    assert "pixels" in refusal(file, most_pixels=1_999_999)
    assert make_pictures(file, most_pixels=2_000_000).width == 1600


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
@pytest.mark.parametrize(("side", "millions"), [(10_001, 50), (30_000, 100), (65_000, 100)])
def test_a_bomb_is_refused_by_its_header_before_anything_is_decoded(side, millions):
    assert f"more than {millions} million pixels" in refusal(BytesIO(png_header(side, side)))


def png_header(width: int, height: int) -> bytes:
    """A PNG that claims its size and holds next to nothing: ISO/IEC 15948, signature, IHDR, IDAT."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"\x00" * 100))


def test_the_upload_stays_open_and_whole():
    file = stored(drawn(80, 40))
    before = file.getvalue()
    make_pictures(file)
    file.seek(0)
    assert file.read() == before
