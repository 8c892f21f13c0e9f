"""A day sheet on paper: a few pages, with a box to tick beside each job and every caution of it."""

from io import BytesIO
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from ..actions.writing import today
from ..domain.day_sheet import TOOLS, nobody_alone
from ..domain.plain import capital
from ..domain.plain import day as in_words
from ..labels.fonts import BOLD, PLAIN, font, printable
from ..models import DaySheet
from ..queries.attendance import changed
from . import writers
from .which_pieces import name_pieces

SIZE = 9
SMALL = 7.5
LONGEST = 260
"""Characters of what a job is called and where it lies. A caution is never cut short."""
A_LINE = 4
WIDTHS = [8 * mm, 82 * mm, 42 * mm, 125 * mm, 14 * mm]
DEFERS = (
    "The person in charge decides on the day. Boiler work, lifting and tests of pressure follow the competent person "
    "and the local code."
)


def sheet_pdf(sheet: DaySheet) -> bytes:
    font(PLAIN), font(BOLD)
    file, title = BytesIO(), f"{sheet.date:%A} {in_words(sheet.date)}, {sheet.locomotive}"
    document = SimpleDocTemplate(
        file, pagesize=landscape(A4), leftMargin=12 * mm, rightMargin=12 * mm, topMargin=10 * mm, bottomMargin=12 * mm,
        title=f"Day sheet, {title}", creator="Cotter",
    )  # fmt: skip
    jobs = [job for job in sheet.jobs.with_hands() if not job.done_at]
    name_pieces(jobs, today())
    on = list(sheet.hands.select_related("person"))
    known = writers.as_hands(sheet, on)
    writers.name_hands(jobs, known)
    news = changed([sheet])[sheet.pk]
    there = [hand for hand in writers.those_here(on) if hand not in news.gone]
    hands = ", ".join(map(str, there))
    story = [
        _words(title, BOLD, 15),
        _words(
            f"In charge: {sheet.in_charge or 'nobody is named'}. On the sheet: {hands or 'nobody yet'}.",
            PLAIN,
            10,
            None,
        ),
        *(_words(sentence, BOLD, 10, None) for sentence in (*news.told, *writers.against(sheet, there, known))),
        _words(DEFERS),
        Spacer(0, 2 * mm),
        _table([job for job in jobs if job.hands.all()]),
    ]
    if reserve := [job for job in jobs if not job.hands.all()]:
        story += [Spacer(0, 3 * mm), _words("In reserve, if a piece is missing or time is left", BOLD, 11)]
        story += [_table(reserve)]
    document.build(story)
    return file.getvalue()


def _table(jobs) -> Table:
    head = [_words(word, BOLD) for word in ("", "Job, and where it lies", "Who", "Take care; take with you", "Tick")]
    rows = [
        [
            _words(str(job.number), BOLD, 11),
            [
                _words(job.words, BOLD),
                *_pieces(job),
                _words(job.where),
            ],
            _words(", ".join(job.who), longest=None),
            [_words(text, longest=None) for text in _told(job)],
            "",
        ]
        for job in jobs
    ]
    style = [
        ("GRID", (0, 0), (-1, -1), 0.4, HexColor("#999999")),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("TOPPADDING", (0, 0), (-1, -1), 1.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
        ("LEFTPADDING", (0, 0), (-1, -1), 2),
        ("RIGHTPADDING", (0, 0), (-1, -1), 2),
    ]
    return Table([head, *rows], colWidths=WIDTHS, repeatRows=1, style=TableStyle(style), hAlign="LEFT")


def _pieces(job) -> list[Paragraph]:
    """A few names a paragraph: of a long text the end would not be printed."""
    names = job.pieces.split("; ") if job.pieces else []
    lines = ["; ".join(names[first : first + A_LINE]) for first in range(0, len(names), A_LINE)]
    return [_words(line, size=SMALL, longest=None) for line in lines]


def _told(job) -> list[str]:
    alone = [nobody_alone(job.danger)] if job.danger else []
    tools = [f"With you: {TOOLS[job.need]}."] if job.need in TOOLS else []
    return [*alone, *job.cautions, *tools]


def _words(text: str, face: str = PLAIN, size: float = SIZE, longest: int | None = LONGEST) -> Paragraph:
    text = text if longest is None or len(text) <= longest else f"{text[:longest].rstrip()}…"
    style = ParagraphStyle(face, fontName=face, fontSize=size, leading=size * 1.2, splitLongWords=True)
    return Paragraph(escape(printable(capital(text), face)), style)
