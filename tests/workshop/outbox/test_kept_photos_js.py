"""Photos made smaller on the phone. Reference for the turning and the time: Exif 2.3 (CIPA DC-008), read by Pillow."""

from base64 import b64decode
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import ExifTags, Image

pytestmark = pytest.mark.needs_chromium
SCRIPT = Path(__file__).resolve().parents[3] / "static" / "js" / "kept-photos.js"
TAKEN = "2026:03:14 09:26:53"


@pytest.fixture(scope="module")
def smaller(browser):
    """What the script makes of a file: its name, its type and its bytes."""
    page = browser.new_page()
    page.set_content("<input type=file>")
    page.add_script_tag(path=SCRIPT)

    def made(name: str, kind: str, content: bytes) -> tuple[str, str, bytes]:
        page.set_input_files("input", [{"name": name, "mimeType": kind, "buffer": content}])
        entered = page.evaluate(
            """async () => {
                const made = await cotter.smaller(document.querySelector("input").files[0]);
                const bytes = new Uint8Array(made.bytes);
                let text = "";
                for (let at = 0; at < bytes.length; at += 10000) {
                    text += String.fromCharCode(...bytes.subarray(at, at + 10000));
                }
                return [made.name, made.type, btoa(text)];
            }"""
        )
        return entered[0], entered[1], b64decode(entered[2])

    yield made
    page.close()


def a_large_photo(size=(2800, 2100), *, orientation=6) -> bytes:
    """Coarse noise, so that it is large, with a red band along the top of the picture as stored."""
    noise = np.random.default_rng(1).integers(0, 255, (150, 200, 3), np.uint8)
    picture = Image.fromarray(noise).resize(size)
    picture.paste((255, 0, 0), (0, 0, size[0], size[1] // 10))
    notes = Image.Exif()
    notes[ExifTags.Base.Orientation] = orientation
    notes.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = TAKEN
    file = BytesIO()
    picture.save(file, "JPEG", exif=notes, quality=92)
    return file.getvalue()


def test_a_large_photo_becomes_smaller_stands_upright_and_keeps_its_time(smaller):
    original = a_large_photo()
    name, kind, made = smaller("IMG_0001.JPG", "image/jpeg", original)
    picture = Image.open(BytesIO(made))
    assert (name, kind, picture.size) == ("IMG_0001.jpg", "image/jpeg", (1500, 2000))
    assert len(made) < len(original) / 2
    assert picture.getexif()[ExifTags.Base.Orientation] == 1
    assert picture.getexif().get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] == TAKEN
    red, green, blue = picture.convert("RGB").getpixel((picture.width - 20, picture.height // 2))
    assert red > 240 > 20 > max(green, blue)  # turned by a quarter to the right, the top is at the right


@pytest.mark.parametrize(
    ("name", "kind", "content"),
    [
        ("small.jpg", "image/jpeg", a_large_photo((320, 240))),
        ("cut.jpg", "image/jpeg", a_large_photo((320, 240))[:900] + bytes(700_000)),
        ("film.mp4", "video/mp4", bytes(700_000)),
        ("no-picture.heic", "image/heic", bytes(700_000)),
    ],
)
def test_what_is_small_or_cannot_be_drawn_goes_as_it_came(smaller, name, kind, content):
    assert smaller(name, kind, content) == (name, kind, content)
