"""Tags read in a photo: as it came, then larger, sharper and with the contrast drawn out, until something is found."""

from collections.abc import Iterator
from typing import Any, BinaryIO

import zxingcpp
from PIL import Image, ImageFilter, ImageOps

from ..domain.scanned import Scanned, scanned
from ..photos.pictures import make_grey

FIRST_PX = 2000  # as our pages send it; a tag held near fills a good part of it, and most are read at once
LARGEST_PX = 3200  # for a tag far away in a large photo
TINY_PX = 800
QR: Any = zxingcpp.BarcodeFormat.QRCode  # one format is as good as several, which its types do not say


def read_tags(file: BinaryIO) -> Scanned:
    """What every tag in the photo says; raises PictureError where the file is no photo that we take."""
    for picture in _tries(make_grey(file, LARGEST_PX)):
        found = zxingcpp.read_barcodes(picture, formats=QR)
        if text := scanned(code.text for code in found):
            return text
    return Scanned()


def _tries(photo: Image.Image) -> Iterator[Image.Image]:
    """The cheapest first. The decoder itself turns the picture, halves it, and reads light on dark."""
    small = photo.copy()
    small.thumbnail((FIRST_PX, FIRST_PX), Image.Resampling.BICUBIC)
    yield small
    if small.size != photo.size:
        yield photo
    drawn_out = ImageOps.autocontrast(small, cutoff=2)
    yield drawn_out
    yield drawn_out.filter(ImageFilter.UnsharpMask(radius=3, percent=250, threshold=0))  # a shaken or near photo
    yield drawn_out.filter(ImageFilter.GaussianBlur(2))  # grain of a dark photo, or scratches
    if max(photo.size) <= TINY_PX:
        yield photo.resize((photo.width * 3, photo.height * 3), Image.Resampling.BICUBIC)
    yield drawn_out.rotate(20, Image.Resampling.BICUBIC, expand=True, fillcolor=160)
