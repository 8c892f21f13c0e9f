"""Photographs made ready to be shown: a large and a small one, turned as taken, with nothing in them but the picture.

The original stays as it came, where only a backup reaches it. Whatever is shown or exported is made here, so it
carries no place, no camera, no comment.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from threading import Lock
from typing import BinaryIO

import pillow_heif
from PIL import ExifTags, Image, ImageCms

LARGE_PX, SMALL_PX = 1600, 320
MOST_BYTES = 25 * 1024 * 1024
MOST_PIXELS = 100_000_000  # counted from the header, before anything is decoded
MOST_WHOLE_PIXELS = 50_000_000
"""Of a picture that can only be decoded whole: any but a plain JPEG. The largest that phones make have 50 million."""
MOST_MEMORY = 700 * 1024**2
"""What one picture may take while it is decoded; those that take much go one after the other."""
MUCH_PIXELS = 12_000_000
FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")  # no other decoder ever sees an upload
_SHOWN_AS = {"MPO": "JPEG", "WEBP": "WebP", "HEIF": "HEIC"}  # MPO: a JPEG with further views behind it, as phones make
_QUALITY = 82
_SRGB = ImageCms.createProfile("sRGB")
_TURNS = {  # Exif 2.3, tag 0x0112: how the stored picture is turned to stand as it was taken
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}

_TURN = Lock()

pillow_heif.register_heif_opener()
Image.MAX_IMAGE_PIXELS = MOST_PIXELS  # Pillow itself warns past this, and refuses past twice as many


class PictureError(ValueError):
    """Why a file is not taken as a photograph, as a sentence that says what to do."""


@dataclass(frozen=True)
class Pictures:
    """Both pictures as JPEG. Width and height are those of the large one; `taken` is what the camera's clock said."""

    large: bytes
    small: bytes
    width: int
    height: int
    original_format: str
    taken: datetime | None


_QUARTERS = {1: Image.Transpose.ROTATE_270, 2: Image.Transpose.ROTATE_180, 3: Image.Transpose.ROTATE_90}
"""Pillow turns to the left."""


def make_pictures(
    file: BinaryIO, *, most_bytes: int = MOST_BYTES, most_pixels: int = MOST_PIXELS, quarters: int = 0
) -> Pictures:
    """Both pictures from an uploaded file, turned by so many quarters to the right; raises PictureError where the file
    is not one we take."""
    with _looked_at(file, most_bytes, most_pixels) as picture, _in_turn(picture), _damage_is_refused():
        original_format = _SHOWN_AS.get(picture.format or "", picture.format or "")
        large = _plain(_reduced(picture, LARGE_PX))
        exif = _exif(picture)  # only now: asked for its notes, a PNG loads itself, and the error would pass unseen
        turn = _TURNS.get(exif.get(ExifTags.Base.Orientation, 0))
    if turn is not None:
        large = large.transpose(turn)  # after reducing: a quarter of the work
    if quarters % 4:
        large = large.transpose(_QUARTERS[quarters % 4])
    large.info = {}  # what is left in it, such as a comment, would be written out again
    small = large.resize(_size_within(large.size, SMALL_PX), Image.Resampling.BICUBIC, reducing_gap=2.0)
    return Pictures(_jpeg(large), _jpeg(small), *large.size, original_format, _taken(exif))


def make_grey(file: BinaryIO, longest: int) -> Image.Image:
    """The picture in grey, within this size and as it was stored: a tag is read in it, and nothing of it is kept.
    Refused as a photograph is."""
    with _looked_at(file, MOST_BYTES, MOST_PIXELS) as picture, _in_turn(picture), _damage_is_refused():
        return _plain(_reduced(picture, longest)).convert("L")


def _looked_at(file: BinaryIO, most_bytes: int, most_pixels: int) -> Image.Image:
    """The picture with its size and its head looked at, and nothing decoded yet."""
    _refuse_size(file, most_bytes)
    picture = _opened(file, most_pixels)
    return _with_checksums_checked(picture, file) if picture.format == "PNG" else picture


def _refuse_size(file: BinaryIO, most_bytes: int) -> None:
    file.seek(0, os.SEEK_END)
    size = file.tell()
    file.seek(0)
    if not size:
        raise PictureError("This file is empty. Take or choose the picture again.")
    if size > most_bytes:
        raise PictureError(
            f"This file has {size / 1024**2:.1f} MiB, and {most_bytes / 1024**2:.0f} MiB is the most. "
            "Send the picture in a smaller size."
        )


def _opened(file: BinaryIO, most_pixels: int) -> Image.Image:
    """The picture with its header read and nothing decoded."""
    try:
        picture = Image.open(file, formats=FORMATS)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_many_pixels(most_pixels) from error
    except Exception as error:  # a decoder given any file at all may raise anything at all
        raise PictureError("This file is not a picture we can read. Send a JPEG, PNG, WebP or HEIC.") from error
    if _is_whole(picture):
        most_pixels = min(most_pixels, MOST_WHOLE_PIXELS)
    if picture.width * picture.height > most_pixels:
        raise _too_many_pixels(most_pixels)
    return picture


def _is_whole(picture: Image.Image) -> bool:
    return picture.format not in ("JPEG", "MPO") or bool(picture.info.get("progressive"))


@contextmanager
def _in_turn(picture: Image.Image) -> Iterator[None]:
    """Large ones are decoded one after the other, or a handful at once would take all the memory there is."""
    if not _is_whole(picture) or picture.width * picture.height <= MUCH_PIXELS:
        yield
        return
    with _TURN:
        yield


def _too_many_pixels(most_pixels: int) -> PictureError:
    return PictureError(
        f"This picture has more than {most_pixels / 1e6:.0f} million pixels. Send it in a smaller size."
    )


def _with_checksums_checked(picture: Image.Image, file: BinaryIO) -> Image.Image:
    """A PNG carries checksums, which Pillow minds only when asked to verify, after which it must be opened anew."""
    with _damage_is_refused():
        picture.verify()
        file.seek(0)
        return Image.open(file, formats=FORMATS)


@contextmanager
def _damage_is_refused() -> Iterator[None]:
    try:
        yield
    except Exception as error:  # as above; half a picture is worse than none
        raise PictureError("This picture is cut short or damaged. Send it again.") from error


def _exif(picture: Image.Image) -> Image.Exif:
    """What the camera noted; a damaged note is no reason to refuse the picture."""
    try:
        return picture.getexif()
    except Exception:  # a damaged one may raise anything at all
        return Image.Exif()


def _taken(exif: Image.Exif) -> datetime | None:
    try:
        noted = exif.get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.DateTimeOriginal) or exif.get(ExifTags.Base.DateTime)
        return datetime.strptime(str(noted), "%Y:%m:%d %H:%M:%S")
    except Exception:  # none noted, or not readable
        return None


def _size_within(size: tuple[int, int], longest: int) -> tuple[int, int]:
    """The size reduced to the longest side, never enlarged."""
    scale = min(1.0, longest / max(size))
    return max(1, int(size[0] * scale)), max(1, int(size[1] * scale))


def _reduced(picture: Image.Image, longest: int) -> Image.Image:
    """Decoded no larger than need be: a JPEG decodes straight to a half or a quarter, if asked in its shape."""
    size = _size_within(picture.size, longest)
    picture.draft("RGB", size)
    picture.load()
    return _resizable(picture).resize(size, Image.Resampling.BICUBIC, reducing_gap=2.0)


def _resizable(picture: Image.Image) -> Image.Image:
    """In a mode whose values may be blended; palettes and 16 bits of grey may not."""
    if picture.mode.startswith("I"):
        picture.info.pop("transparency", None)
        return picture.point(lambda value: value / 256).convert("L")
    if picture.mode in ("P", "PA", "LA", "1") or "transparency" in picture.info:
        return picture.convert("RGBA")
    return picture


def _plain(picture: Image.Image) -> Image.Image:
    """In RGB, on white where it was transparent."""
    if picture.mode in ("RGBA", "RGBa"):
        white = Image.new("RGBA", picture.size, "white")
        return Image.alpha_composite(white, picture.convert("RGBA")).convert("RGB")
    if picture.mode == "RGB" and (profile := picture.info.get("icc_profile")):
        return _in_srgb(picture, profile)
    return picture.convert("RGB")


def _in_srgb(picture: Image.Image, profile: bytes) -> Image.Image:
    """Colours as every screen understands them; phones often write in a wider space."""
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        if "sRGB" in ImageCms.getProfileDescription(source):
            return picture
        return ImageCms.profileToProfile(picture, source, _SRGB) or picture
    except (OSError, ImageCms.PyCMSError):  # a profile nobody can use: the plain numbers are near enough
        return picture


def _jpeg(picture: Image.Image) -> bytes:
    file = BytesIO()
    picture.save(file, "JPEG", quality=_QUALITY)
    return file.getvalue()
