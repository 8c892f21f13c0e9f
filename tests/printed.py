"""Printed pages read back by tools that share nothing with the code: poppler draws them, zxing-cpp decodes them."""

import subprocess

import zxingcpp
from PIL import Image


def pages(pdf: bytes, folder, dpi: int = 200) -> list[Image.Image]:
    (folder / "labels.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", folder / "labels.pdf", folder / "page"], check=True)
    return [Image.open(path) for path in sorted(folder.glob("page*.pgm"))]


def read_back(page: Image.Image) -> list[str]:
    """The addresses on a page along its rows, as they are laid out."""
    found = zxingcpp.read_barcodes(page, zxingcpp.BarcodeFormat.QRCodeModel2)
    return [
        code.text
        for code in sorted(found, key=lambda code: (round(code.position.top_left.y, -1), code.position.top_left.x))
    ]


def text_of(pdf: bytes, folder) -> str:
    (folder / "labels.pdf").write_bytes(pdf)
    answer = subprocess.run(["pdftotext", "-layout", folder / "labels.pdf", "-"], check=True, capture_output=True)
    return answer.stdout.decode()
