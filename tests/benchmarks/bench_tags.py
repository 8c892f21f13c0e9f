"""1,000 part tags as a PDF, against a PDF of the same size with the same texts and nothing else.

Floor: ReportLab writing the same lines of text, already placed, in the same fonts, with no QR code and no fitting.
Goals: at most 16 times the floor, and at most 300 bytes a tag. Time is judged on full tags, with position, name
and place; size on tags that carry their code and its characters only. The other two figures are printed beside them.

    python tests/benchmarks/bench_tags.py
"""

import random
import sys
import time
from io import BytesIO
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.domain.tagcodes import new_code, printed_address
from parts.labels.kinds import PartLabel
from parts.labels.layouts import LabelLayout
from parts.labels.pages import paginate
from parts.labels.pdf import render
from parts.labels.sheets import LabelSheet, parse_sheet

COUNT, ROUNDS = 1000, 7
SIDES = ["RH LEADING ▲ FRONT", "LH DRIVING ▲ FRONT", "RH TRAILING", ""]
NAMES = ["Axlebox", "Coupling rod knuckle pin", "Intermediate reversing-shaft bracket", "Spring hanger bolt"]


def main() -> None:
    sheet = parse_sheet("a4-3x8")
    bare, full = bare_tags(), full_tags()
    for what, labels, size_goal, time_goal in (
        ("code and characters only", bare, "  (goal 300)", ""),
        ("full", full, "", "  (goal 16)"),
    ):
        placed = [page.layouts for page in paginate(labels, sheet)]
        render(labels[:1], sheet)  # the fonts are read
        floor, ours = in_turn(
            lambda placed=placed: text_only(placed, sheet), lambda labels=labels: render(labels, sheet)
        )
        size = len(render(labels, sheet)) / COUNT
        print(f"{COUNT} tags, {what}:")
        print(f"  text only {floor * 1000:6.0f} ms   tags {ours * 1000:6.0f} ms   ratio {ours / floor:5.1f}{time_goal}")
        print(f"  {size:.0f} bytes a tag{size_goal}")


def codes() -> list[str]:
    draw = random.Random(1)
    return [new_code(draw.randrange) for _ in range(COUNT)]


def bare_tags() -> list[PartLabel]:
    return [PartLabel(code=code, address=address(code)) for code in codes()]


def full_tags() -> list[PartLabel]:
    return [
        PartLabel(
            code=code,
            address=address(code),
            title=NAMES[n % len(NAMES)],
            side_line=SIDES[n % len(SIDES)],
            lines=["Running gear / Horns"],
        )
        for n, code in enumerate(codes())
    ]


def address(code: str) -> str:
    return printed_address("http://192.168.1.20:8000", code)


def text_only(placed: list[list[LabelLayout]], sheet: LabelSheet) -> bytes:
    file = BytesIO()
    canvas = Canvas(file, pagesize=(sheet.width * mm, sheet.height * mm), pageCompression=1)
    for page in placed:
        for layout in page:
            for text in layout.texts:
                canvas.setFont(text.font, round(text.size, 1))
                canvas.drawString(round(text.x, 1), round(text.baseline, 1), text.text)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def in_turn(*works) -> list[float]:
    """The least time of each, over many rounds run in turn."""
    least = [float("inf")] * len(works)
    for _ in range(ROUNDS):
        for n, work in enumerate(works):
            start = time.perf_counter()
            work()
            least[n] = min(least[n], time.perf_counter() - start)
    return least


if __name__ == "__main__":
    main()
