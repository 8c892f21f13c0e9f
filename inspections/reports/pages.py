"""The pages themselves: A4, a foot on every one with what it is part of, page x of y, and that it certifies nothing."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from io import BytesIO

from reportlab import rl_config
from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from core.log import chain
from parts.labels.fonts import PLAIN, ems, font

from .letters import GREY, RULE, printable

rl_config.useA85 = 0
SIDE, TOP, FOOT = 18 * mm, 15 * mm, 24 * mm
WIDTH = A4[0] - 2 * SIDE
NO_CERTIFICATE = "This is a record, not a certificate. What it allows, the competent person and the local code decide."
SMALL = 7.5


class Begins(Flowable):
    """Nothing to see: from here on the foot of the page names another part."""

    def __init__(self, part: str, key: str = ""):
        super().__init__()
        self.part, self.key = part, key

    def wrap(self, *room):
        return 0, 0

    def draw(self):
        pass


@dataclass
class Leaf:
    """A finished page, whose number among all is known only at the end."""

    state: dict
    part: str
    front: bool
    begun: list[tuple[str, str]]  # what begins on it: its key, its name in the outline


class NumberedCanvas(Canvas):
    """Keeps every page until the last, for "page 2 of 5". Pages of the front matter, written last, go first."""

    def __init__(self, *args, seal: str, **kwargs):
        super().__init__(*args, **kwargs)
        self.seal = seal  # by which a rewritten past shows
        self.leaves: list[Leaf] = []
        self.part, self.front = "", False
        self.begun: list = []

    def showPage(self):
        self.leaves.append(Leaf(dict(self.__dict__), self.part, self.front, self.begun))
        self.begun = []
        self._startPage()

    def save(self):
        front = [leaf for leaf in self.leaves if leaf.front]
        body = [leaf for leaf in self.leaves if not leaf.front]
        for leaves, word in ((front, "contents, page"), (body, "page")):
            for number, leaf in enumerate(leaves, 1):
                self.__dict__.update(leaf.state)
                self._foot(leaf.part, f"{word} {number} of {len(leaves)}")
                for key, name in leaf.begun:
                    self.bookmarkPage(key)
                    self.addOutlineEntry(name, key)
                super().showPage()
        super().save()

    def _foot(self, part: str, number: str):
        font(PLAIN)
        self.setStrokeColor(RULE)
        self.setLineWidth(0.5)
        self.line(SIDE, FOOT - 5 * mm, A4[0] - SIDE, FOOT - 5 * mm)
        self.setFillColor(GREY)
        self.setFont(PLAIN, SMALL)
        self.drawRightString(A4[0] - SIDE, FOOT - 9 * mm, number)
        self.drawString(SIDE, FOOT - 9 * mm, shortened(part, WIDTH - 40 * mm))
        self.drawString(SIDE, FOOT - 12.5 * mm, NO_CERTIFICATE)
        self.drawString(SIDE, FOOT - 16 * mm, self.seal)


def shortened(text: str, room: float) -> str:
    text = " ".join(printable(text, PLAIN).split())
    if ems(text, PLAIN) * SMALL <= room:
        return text
    while text and ems(text + "…", PLAIN) * SMALL > room:
        text = text[:-1]
    return text.rstrip() + "…"


class Document(BaseDocTemplate):
    """Writes what it is given, and knows on which page each part began."""

    def __init__(self, file, title: str, author: str):
        super().__init__(
            file, pagesize=A4, title=title, author=author, subject=NO_CERTIFICATE, creator="Cotter", producer="Cotter",
            pageCompression=1,
        )  # fmt: skip
        frame = Frame(
            SIDE, FOOT, WIDTH, A4[1] - TOP - FOOT, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0
        )
        self.addPageTemplates([PageTemplate("page", [frame])])
        self.began: dict[str, int] = {}
        self.in_front = False

    def afterFlowable(self, flowable):
        if isinstance(flowable, Begins):
            self.canv.part = flowable.part
            self.canv.begun.append((flowable.key, flowable.part))
            self.began[flowable.key] = self.page
            self.in_front = flowable.key == FRONT
        self.canv.front = self.in_front


FRONT = "front"


def written(title: str, author: str, story: Callable[[Document], list]) -> bytes:
    """`story` is given the document: what it appends after a flowable was drawn may tell on which page that was."""
    file = BytesIO()
    document = Document(file, title, author)
    document.build(story(document), canvasmaker=partial(NumberedCanvas, seal=chain.seal().in_words()))
    return file.getvalue()
