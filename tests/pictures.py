"""Small pictures to send in tests, drawn on the spot."""

from io import BytesIO
from itertools import count

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import ExifTags, Image

numbers = count(1)


def a_photo(name: str = "axlebox.jpg", *, size: tuple[int, int] = (640, 480), taken: str = "") -> SimpleUploadedFile:
    """A JPEG as a phone sends it, with the place where it was taken in it. No two are the same file."""
    exif = Image.Exif()
    exif[ExifTags.Base.ImageDescription] = f"photo {next(numbers)}"
    exif[ExifTags.Base.GPSInfo] = {ExifTags.GPS.GPSLatitudeRef: "N", ExifTags.GPS.GPSLatitude: (51.0, 2.0, 3.0)}
    if taken:
        exif[ExifTags.Base.DateTime] = taken
    file = BytesIO()
    Image.new("RGB", size, "peru").save(file, "JPEG", exif=exif)
    return SimpleUploadedFile(name, file.getvalue(), "image/jpeg")


def not_a_photo(name: str = "drawing.pdf") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, b"%PDF-1.7 not a picture at all", "application/pdf")


def a_broken_photo(name: str = "cut.jpg") -> SimpleUploadedFile:
    """As a link that fails half-way leaves it."""
    whole = a_photo().read()
    return SimpleUploadedFile(name, whole[: len(whole) // 2], "image/jpeg")
