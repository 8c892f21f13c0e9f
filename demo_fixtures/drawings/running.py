"""Wheels, axleboxes, springs and frames."""

import math

from .pen import HAIR, LINE, OUTLINE, Pen, around, on, row


def axlebox(pen: Pen) -> None:
    pen.ground(420, 1180, 930)
    left, right, top, bottom = 430, 1170, 180, 920
    body = [(left, bottom), (left, top + 60), (left + 60, top), (right - 60, top), (right, top + 60), (right, bottom)]
    pen.polygon(body)
    for x0, x1 in ((left - 46, left), (right, right + 46)):  # the flanges that hold it between the horns
        pen.box(x0, top + 40, x1, bottom - 40, width=LINE)
        pen.hatch([(x0, top + 40), (x1, top + 40), (x1, bottom - 40), (x0, bottom - 40)], gap=11)
    pen.hatch([*body[:3], (left + 60, bottom)], angle=80, gap=12)
    journal = (800, 560)
    brass = [*around(journal, 250, 180, 360), *reversed(around(journal, 172, 180, 360))]
    pen.polygon(brass)
    pen.hatch(brass, angle=-45, gap=11)
    pen.circle(journal, 168)
    pen.dished(journal, 40, 168)
    pen.polygon([(560, 640), (1040, 640), (1040, 880), (560, 880)])  # the keep, and its pins
    pen.rounded(566, 646, 1034, 874, lines=9)
    for x in (500, 1100):
        pen.circle((x, 760), 34)
        pen.circle((x, 760), 16, width=LINE)
    pen.box(690, 205, 910, 290, radius=14, width=LINE)  # the oil box in the crown
    pen.rivets(((740, 247), (800, 247), (860, 247)), 14)
    pen.centre_line((800, 130), (800, 990))
    pen.centre_line((360, 560), (1240, 560))


def wheelset(pen: Pen) -> None:
    pen.ground(250, 1350, 960)
    pen.box(180, 520, 1420, 590)
    pen.rounded(180, 520, 1420, 590, lines=11)
    for x in (420, 1180):
        _wheel_edge(pen, x)
    for x0, x1 in ((90, 330), (1270, 1510)):  # the journals beyond the wheels
        pen.box(x0, 500, x1, 610)
        pen.rounded(x0, 500, x1, 610)
    pen.box(560, 505, 1040, 605)
    pen.rounded(560, 505, 1040, 605, lines=17)
    pen.centre_line((60, 555), (1540, 555))


def _wheel_edge(pen: Pen, x: float) -> None:
    pen.box(x - 62, 190, x + 62, 920, radius=10)
    pen.rounded(x - 62, 190, x + 62, 920, lines=25)
    flange = 62 if x < 800 else -62
    pen.box(min(x + flange, x + flange * 1.45), 160, max(x + flange, x + flange * 1.45), 950, radius=12)
    pen.box(x - 92, 430, x + 92, 680, radius=16)
    pen.rounded(x - 92, 430, x + 92, 680, lines=15)


def axle(pen: Pen) -> None:
    pen.ground(190, 1410, 790)
    for x0, x1, half in ((120, 330, 62), (330, 560, 84), (560, 1040, 66), (1040, 1270, 84), (1270, 1480, 62)):
        pen.box(x0, 550 - half, x1, 550 + half)
        pen.rounded(x0, 550 - half, x1, 550 + half, lines=15)
    for x in (470, 1130):
        pen.box(x - 60, 500, x + 60, 532, radius=12, width=LINE)  # keyways
    pen.centre_line((60, 550), (1540, 550))


def wheel(pen: Pen) -> None:
    pen.ground(470, 1130, 980)
    hub = (800, 560)
    pen.circle(hub, 425)
    pen.dished(hub, 395, 425, rings=3)
    pen.circle(hub, 392)
    pen.circle(hub, 350, width=LINE)
    for n in range(12):
        _spoke(pen, hub, 15 + 30 * n)
    pen.circle(hub, 118)
    pen.dished(hub, 70, 118, rings=5)
    pen.circle(hub, 68)
    pen.hatch(around(hub, 68, 0, 360), gap=12)
    pen.circle((800, 760), 54)
    pen.circle((800, 760), 22, width=LINE)
    pen.polygon([*around(hub, 346, 236, 304), *reversed(around(hub, 268, 236, 304))], width=LINE)  # the balance weight
    pen.hatch([*around(hub, 344, 236, 304), *reversed(around(hub, 268, 236, 304))], angle=0, gap=9)
    pen.centre_line((800, 90), (800, 1030))
    pen.centre_line((330, 560), (1270, 560))


def _spoke(pen: Pen, hub, degrees: float) -> None:
    edges = [
        on(hub, 110, degrees - 7),
        on(hub, 352, degrees - 3.2),
        on(hub, 352, degrees + 3.2),
        on(hub, 110, degrees + 7),
    ]
    pen.polygon(edges, width=LINE)
    if 0 < math.sin(math.radians(degrees)) or math.cos(math.radians(degrees)) > 0.6:
        pen.hatch([edges[0], edges[1], on(hub, 352, degrees), on(hub, 110, degrees)], angle=-degrees, gap=7)


def tyre(pen: Pen) -> None:
    centre = (800, 550)
    pen.ground(430, 1170, 960)
    pen.circle(centre, 415)
    pen.circle(centre, 392, width=LINE)
    pen.circle(centre, 318)
    pen.dished(centre, 318, 392, rings=9)
    pen.box(1110, 640, 1500, 950, radius=8, width=LINE)  # a section of it beside
    section = [(1160, 900), (1160, 760), (1200, 735), (1420, 755), (1420, 790), (1450, 800), (1450, 900)]
    pen.polygon(section)
    pen.hatch(section)
    pen.centre_line((800, 100), (800, 1000))
    pen.centre_line((340, 550), (1260, 550))


def spring(pen: Pen) -> None:
    pen.ground(260, 1340, 870)
    for n in range(9):
        half, y = 620 - 58 * n, 330 + 36 * n
        sag = 190 * (half / 620) ** 2
        upper = [(800 + half * s / 12, y + 130 - sag * (s / 12) ** 2) for s in range(-12, 13)]
        lower = [(x, y_ + 34) for x, y_ in upper]
        pen.polygon([*upper, *reversed(lower)], width=LINE)
        pen.line(
            *[(x, y_ + 27) for x, y_ in lower[2:-2]] if n < 0 else [(x, y_ + 24) for x, y_ in upper[1:-1]], width=HAIR
        )
    for side in (-1, 1):
        eye = (800 + side * 640, 286)
        pen.circle(eye, 46)
        pen.dished(eye, 20, 46, rings=4)
        pen.circle(eye, 20, width=LINE)
    pen.box(722, 400, 878, 850, radius=10)
    pen.rounded(722, 400, 878, 850, upright=True, lines=13)
    pen.nut((800, 810), 34)
    pen.centre_line((800, 250), (800, 930))


def hanger(pen: Pen) -> None:
    pen.ground(640, 960, 985)
    pen.box(755, 330, 845, 860)
    pen.rounded(755, 330, 845, 860, upright=True)
    pen.circle((800, 235), 120)
    pen.dished((800, 235), 55, 120)
    pen.circle((800, 235), 52)
    pen.box(765, 780, 835, 970, width=LINE)
    for n in range(16):
        pen.line((765, 790 + 11 * n), (835, 796 + 11 * n), width=HAIR)
    pen.box(715, 700, 885, 775, radius=8)
    pen.rounded(715, 700, 885, 775, upright=True, lines=9)
    pen.centre_line((800, 90), (800, 1010))


def frame_plate(pen: Pen) -> None:
    pen.ground(120, 1480, 900)
    outline = [(110, 330), (1490, 330), (1490, 560), (1420, 600)]
    for x in (1180, 800, 420):  # the gaps for the axleboxes, from the right
        outline += [(x + 130, 640), (x + 130, 870), (x + 62, 870), (x + 62, 560)]
        outline += [(x - 62, 560), (x - 62, 870), (x - 130, 870), (x - 130, 640)]
    outline += [(190, 600), (110, 540)]
    pen.polygon(outline)
    pen.hatch([(110, 330), (1490, 330), (1490, 352), (110, 352)], angle=60, gap=9)
    for x in (610, 990):
        pen.oval((x, 490), 62, 50)
        pen.hatch(_crescent((x, 490), 60, 48), gap=9)
    pen.oval((240, 470), 62, 62)
    for x in (420, 800, 1180):
        pen.rivets(row((x - 98, 610), (x - 98, 840), 6), 8)
        pen.rivets(row((x + 98, 610), (x + 98, 840), 6), 8)
    pen.rivets(row((150, 385), (1450, 385), 27), 8)
    for x in (420, 800, 1180):
        pen.centre_line((x, 290), (x, 930))


def horn_guide(pen: Pen) -> None:
    pen.ground(560, 1060, 965)
    shape = [(560, 960), (560, 190), (1060, 190), (1060, 330), (740, 330), (740, 960)]
    pen.polygon(shape)
    pen.hatch([(690, 330), (740, 330), (740, 960), (690, 960)], angle=80, gap=9)
    pen.hatch([(740, 290), (1060, 290), (1060, 330), (740, 330)], angle=10, gap=9)
    pen.arc((790, 380), 70, 180, 270, width=LINE)
    pen.rivets(row((610, 240), (610, 910), 7), 17)
    pen.rivets(row((720, 240), (1010, 240), 4), 17)
    pen.centre_line((610, 140), (610, 1010))


def buffer(pen: Pen) -> None:
    pen.ground(300, 1330, 900)
    pen.box(280, 260, 340, 840)
    pen.rounded(280, 260, 340, 840, upright=True, lines=8)
    stock = [(340, 330), (860, 410), (860, 690), (340, 770)]
    pen.polygon(stock)
    for n in range(1, 12):
        share = n / 12
        if not 0.2 < share < 0.45:
            pen.line((344, 330 + 440 * share), (856, 410 + 280 * share), width=HAIR + share)
    pen.box(860, 470, 1180, 630)
    pen.rounded(860, 470, 1180, 630)
    head = [(1180, 250), (1230, 240), *around((1010, 550), 290, -46, 46), (1230, 860), (1180, 850)]
    pen.polygon(head)
    pen.hatch(head, angle=90, gap=10)
    pen.rivets(((310, 300), (310, 800)), 13)
    pen.centre_line((220, 550), (1380, 550))


def draw_hook(pen: Pen) -> None:
    pen.ground(260, 1290, 890)
    pen.box(240, 500, 850, 600)
    pen.rounded(240, 500, 850, 600)
    pen.thread(240, 510, 420, 590)
    pen.box(430, 450, 500, 650)
    pen.rounded(430, 450, 500, 650, lines=9)
    centre = (1040, 520)
    hook = [
        *around(centre, 225, 170, -38),
        *around((1164, 424), 46, -40, -215),
        *reversed(around(centre, 112, 170, -38)),
    ]
    pen.polygon([(840, 470), *hook, (840, 620)][1:])
    pen.hatch([*around(centre, 225, 150, 20), *reversed(around(centre, 172, 150, 20))], angle=20, gap=9)
    pen.hatch([*around(centre, 132, 150, 60), *reversed(around(centre, 114, 150, 60))], angle=20, gap=7)
    pen.centre_line((180, 550), (1360, 550))


def plain_plate(pen: Pen) -> None:
    pen.ground(250, 1360, 930)
    pen.polygon([(260, 260), (1300, 210), (1360, 900), (290, 920)])
    pen.hatch([(1240, 213), (1300, 210), (1360, 900), (1296, 902)], angle=85, gap=10)
    pen.hatch([(288, 880), (1358, 862), (1360, 900), (290, 920)], angle=3, gap=9)
    pen.rivets(row((310, 305), (1260, 258), 18), 11)
    pen.rivets(row((335, 872), (1300, 852), 18), 11)
    pen.rivets(row((314, 370), (330, 810), 8), 11)
    pen.oval((820, 560), 150, 96, width=OUTLINE)
    pen.hatch(_crescent((820, 560), 147, 93), gap=10)


def _crescent(centre, rx: float, ry: float):
    """The edge of a hole that shows the thickness of the plate."""
    outer = [(centre[0] + (x - centre[0]) * rx / ry, y) for x, y in around(centre, ry, 150, 290)]
    return [*outer, *((x + rx * 0.16, y + ry * 0.16) for x, y in reversed(outer))]
