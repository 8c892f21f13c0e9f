"""Tags as a camera sees them, drawn by the program's own printing and spoilt here."""

from functools import cache
from io import BytesIO

import numpy as np
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from parts.domain.tagcodes import printed_address
from parts.labels import qr

BENCH = 120  # the grey of what it lies on
ADDRESS = "http://cotter.local:8000"


def a_tag(code: str, *, base: str = ADDRESS, module: int = 8) -> Image.Image:
    return a_pattern(printed_address(base, code), module)


def a_pattern(text: str, module: int = 8) -> Image.Image:
    """The square pattern with its quiet zone, as it is printed."""
    dark = np.array(qr.modules(text))
    framed = np.pad(np.where(dark, 0, 255).astype(np.uint8), qr.QUIET_MODULES, constant_values=255)
    return Image.fromarray(np.kron(framed, np.ones((module, module), np.uint8)))


def photographed(*tags: Image.Image, size=(2000, 1500), turned=0.0, light=1.0) -> Image.Image:
    """Side by side on a bench, turned by some degrees, in so much of the light, with a sensor's grain."""
    photo = Image.new("L", size, BENCH)
    for number, tag in enumerate(tags):
        askew = tag.rotate(turned, Image.Resampling.BICUBIC, expand=True, fillcolor=BENCH)
        photo.paste(askew, (150 + number * 620, 300))
    seen = np.asarray(photo, np.float32) * light + grain(*size)
    return Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8))


@cache
def grain(wide: int, tall: int) -> np.ndarray:
    return np.random.default_rng(1).normal(0, 4, (tall, wide)).astype(np.float32)


def sent(photo: Image.Image, name: str = "image.jpg") -> SimpleUploadedFile:
    file = BytesIO()
    photo.convert("RGB").save(file, "JPEG", quality=80)
    return SimpleUploadedFile(name, file.getvalue(), "image/jpeg")
