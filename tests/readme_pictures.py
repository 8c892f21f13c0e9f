"""The three pictures at the head of README.md, taken anew from the demo:

    python -m tests.readme_pictures [FOLDER]

FOLDER holds a demo that is built already; without it one is built, in about a minute. Needs Chromium.
"""

import shutil
import sqlite3
import sys
import tempfile
from contextlib import closing
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from tests import tools
from tests.running import ROOT, manage, serving

PICTURES = ROOT / "docs" / "pictures"
COLOURS = 96
"""As many as the pages have with their soft edges; a picture is then a third as large."""
PIECE = """select parts_tag.code from parts_tag
    join parts_component on parts_component.id = parts_tag.component_id
    join parts_position on parts_position.id = parts_component.place_id
    join parts_photo on parts_photo.component_id = parts_component.id
    where parts_position.need = 'crack-check'
    order by parts_component.id limit 1"""


def take(address: str, code: str) -> None:
    PICTURES.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=tools.chromium(), args=tools.CHROMIUM_FLAGS)
        phone = _signed_in(browser, address, "pim", width=390, height=844)
        phone.goto(f"{address}/t/{code}")
        _keep("piece-on-a-phone", phone.screenshot())
        desk = _signed_in(browser, address, "ada", width=1280, height=900)
        desk.goto(f"{address}/")
        _keep("managers-morning", desk.screenshot())
        desk.goto(f"{address}/l/embermoss-5/")
        _keep("engine-reappearing", desk.locator("#map svg:visible").first.screenshot())
        browser.close()


def _signed_in(browser: Browser, address: str, name: str, *, width: int, height: int) -> Page:
    page = browser.new_page(viewport={"width": width, "height": height}, device_scale_factor=1.5)
    page.goto(f"{address}/sign-in/")
    page.fill("[name=username]", name)
    page.fill("[name=password]", "axlebox")
    page.click("main button[type=submit]")
    page.wait_for_url(f"{address}/")
    return page


def _keep(name: str, picture: bytes) -> None:
    file = PICTURES / f"{name}.png"
    Image.open(BytesIO(picture)).convert("RGB").quantize(COLOURS).save(file, optimize=True)
    print(f"{file.relative_to(ROOT)}: {file.stat().st_size // 1000} kB")


def main(words: list[str]) -> None:
    with tempfile.TemporaryDirectory() as there:
        folder = Path(there)
        if words:
            shutil.copytree(Path(words[0]) / "demo", folder / "demo")
        else:
            manage(folder, "demo", "--no-serve").check_returncode()
        with closing(sqlite3.connect(folder / "demo" / "cotter.sqlite3")) as database:
            ((code,),) = database.execute(PIECE)
        with serving(folder, COTTER_DEMO="1") as address:
            take(address, code)


if __name__ == "__main__":
    main(sys.argv[1:])
