"""Cylinders, rods, valve gear, and the small round pieces."""

from .pen import HAIR, LINE, Pen, around, on, row


def cylinder(pen: Pen) -> None:
    pen.ground(230, 1370, 960)
    pen.box(290, 500, 1310, 930)  # the barrel, from the side
    pen.rounded(290, 500, 1310, 930, lines=25)
    for x0, x1 in ((220, 290), (1310, 1380)):
        pen.box(x0, 460, x1, 970)
        pen.rounded(x0, 460, x1, 970, upright=True, lines=6)
    pen.polygon([(430, 500), (470, 250), (1130, 250), (1170, 500)])  # the steam chest
    pen.hatch([(1060, 250), (1130, 250), (1170, 500), (1085, 500)], angle=80, gap=10)
    pen.box(440, 200, 1160, 252)
    pen.rivets(row((475, 226), (1125, 226), 11), 12)
    for x in (640, 800, 960):  # the ports, as they lie behind the cover
        pen.box(x - 42, 310, x + 42, 440, radius=20, width=LINE)
        pen.hatch([(x - 38, 314), (x + 38, 314), (x + 38, 436), (x - 38, 436)], gap=9)
    for y in (505, 590, 675, 760, 845, 930):
        pen.nut((255, y), 14)
        pen.nut((1345, y), 14)
    pen.centre_line((160, 715), (1440, 715))


def cracked_cylinder(pen: Pen) -> None:
    """As the cylinder, with what the penetrant showed at the front port bridge."""
    cylinder(pen)
    pen.line((998, 330), (1010, 372), (1003, 410), (1022, 452), (1016, 500), (1034, 560), (1028, 610), width=7)
    pen.line((1122, 356), (1270, 210), width=HAIR)
    pen.line((1270, 210), (1420, 210), width=HAIR)


def cover(pen: Pen) -> None:
    centre = (800, 550)
    pen.ground(450, 1150, 960)
    pen.circle(centre, 400)
    pen.circle(centre, 300, width=LINE)
    pen.dished(centre, 120, 300, rings=10)
    pen.circle(centre, 110)
    pen.dished(centre, 60, 110, rings=4)
    pen.bolt_circle(centre, 350, 12, 25)
    pen.centre_line((800, 100), (800, 1000))
    pen.centre_line((350, 550), (1250, 550))


def piston(pen: Pen) -> None:
    pen.ground(220, 1390, 900)
    pen.box(410, 500, 1400, 600)
    pen.rounded(410, 500, 1400, 600, lines=13)
    pen.box(250, 250, 410, 850, radius=8)
    pen.rounded(250, 250, 410, 850, upright=True, lines=19)
    for x in (290, 340):
        pen.box(x, 246, x + 24, 854, width=LINE)
    pen.thread(170, 515, 250, 585)
    pen.nut((205, 550), 62)
    pen.box(1300, 520, 1372, 580, width=LINE)
    pen.hatch([(1300, 520), (1372, 520), (1372, 580), (1300, 580)], gap=9)
    pen.centre_line((120, 550), (1470, 550))


def coupling_rod(pen: Pen) -> None:
    _rod(pen, ((260, 122), (1340, 122)), 62)


def connecting_rod(pen: Pen) -> None:
    pen.ground(170, 1440, 800)
    pen.polygon([(330, 505), (1230, 470), (1230, 630), (330, 595)])
    pen.polygon([(390, 527), (1160, 506), (1160, 594), (390, 573)], width=LINE)
    pen.hatch([(390, 527), (1160, 506), (1160, 540), (390, 540)], angle=2, gap=8)
    pen.circle((260, 550), 110)
    pen.dished((260, 550), 56, 110)
    pen.circle((260, 550), 54)
    pen.box(1160, 380, 1470, 720, radius=26)  # the strap around the big end
    pen.hatch([(1160, 380), (1470, 380), (1470, 425), (1160, 425)], gap=10)
    pen.hatch([(1160, 675), (1470, 675), (1470, 720), (1160, 720)], gap=10)
    pen.box(1215, 430, 1415, 670, width=LINE)
    pen.line((1315, 430), (1315, 670), width=LINE)
    pen.circle((1315, 550), 92)
    pen.polygon([(1180, 340), (1212, 340), (1202, 770), (1188, 770)], width=LINE)
    pen.centre_line((100, 550), (1530, 550))


def _rod(pen: Pen, ends, half: float) -> None:
    (x0, r0), (x1, r1) = ends
    pen.ground(x0 - 90, x1 + 90, 780)
    pen.box(x0, 550 - half, x1, 550 + half)
    pen.box(x0 + r0 + 40, 550 - half * 0.55, x1 - r1 - 40, 550 + half * 0.55, radius=16, width=LINE)
    pen.rounded(x0 + r0 + 44, 550 - half * 0.5, x1 - r1 - 44, 550 + half * 0.5, lines=8)
    for x, r in ends:
        pen.circle((x, 550), r)
        pen.dished((x, 550), r * 0.62, r)
        pen.circle((x, 550), r * 0.6)
        pen.hatch([*around((x, 550), r * 0.6, 0, 360), *reversed(around((x, 550), r * 0.44, 0, 360))], gap=8)
        pen.circle((x, 550), r * 0.44, width=LINE)
        pen.box(x - 24, 550 - r - 46, x + 24, 550 - r + 8, radius=8, width=LINE)
    pen.centre_line((x0 - 180, 550), (x1 + 180, 550))


def lever(pen: Pen) -> None:
    """A link or a lever with two eyes and a fork."""
    _rod(pen, ((360, 84), (1240, 104)), 34)
    pen.circle((760, 550), 66)
    pen.dished((760, 550), 30, 66, rings=4)
    pen.circle((760, 550), 30, width=LINE)


def crosshead(pen: Pen) -> None:
    pen.ground(420, 1250, 960)
    pen.polygon([(520, 360), (1080, 360), (1160, 550), (1080, 740), (520, 740), (440, 550)])
    pen.hatch([(440, 550), (1160, 550), (1080, 740), (520, 740)], angle=8, gap=13)
    for y in (250, 750):
        pen.box(440, y, 1160, y + 110)
        pen.rounded(440, y, 1160, y + 110, lines=8)
    pen.circle((800, 550), 130)
    pen.dished((800, 550), 74, 130)
    pen.circle((800, 550), 72)
    pen.hatch(around((800, 550), 70, 0, 360), gap=12)
    pen.box(1120, 490, 1330, 610)
    pen.rounded(1120, 490, 1330, 610)
    pen.box(1210, 520, 1246, 580, width=LINE, fill=0)
    pen.centre_line((360, 550), (1400, 550))
    pen.centre_line((800, 190), (800, 920))


def slide_bar(pen: Pen) -> None:
    pen.ground(170, 1440, 760)
    pen.polygon([(150, 470), (1450, 470), (1450, 560), (1320, 560), (1240, 640), (360, 640), (280, 560), (150, 560)])
    pen.hatch([(280, 560), (1320, 560), (1240, 640), (360, 640)], angle=4, gap=11)
    pen.hatch([(150, 470), (1450, 470), (1450, 486), (150, 486)], angle=70, gap=9)
    pen.rivets(((190, 515), (245, 515), (1355, 515), (1410, 515)), 19)
    pen.rivets(row((520, 530), (1080, 530), 3), 11)


def slide_valve(pen: Pen) -> None:
    pen.ground(360, 1260, 900)
    pen.polygon([(340, 880), (340, 760), (460, 720), (460, 300), (1140, 300), (1140, 720), (1260, 760), (1260, 880)])
    cavity = [(580, 880), (580, 740), *around((800, 700), 220, 200, 340), (1020, 740), (1020, 880)]
    pen.polygon(cavity)
    pen.hatch([(340, 880), (340, 760), (460, 720), (560, 720), (560, 880)], gap=12)
    pen.hatch([(1040, 880), (1040, 720), (1140, 720), (1260, 760), (1260, 880)], gap=12)
    pen.box(470, 240, 1130, 330)
    pen.rounded(470, 240, 1130, 330, lines=9)
    pen.centre_line((800, 180), (800, 940))


def expansion_link(pen: Pen) -> None:
    pen.ground(600, 980, 985)
    centre = (1700, 545)
    shape = [*around(centre, 1000, 154, 206), *reversed(around(centre, 800, 154, 206))]
    pen.polygon(shape)
    slot = [*around(centre, 942, 161, 199), *reversed(around(centre, 858, 161, 199))]
    pen.polygon(slot)
    pen.hatch([*around(centre, 1000, 156, 204), *reversed(around(centre, 946, 156, 204))], angle=0, gap=11)
    pen.box(742, 480, 868, 612, radius=10)
    pen.hatch([(742, 480), (868, 480), (868, 612), (742, 612)], gap=12)
    pen.circle((805, 546), 36)
    for degrees in (153.5, 206.5):
        pen.circle(on(centre, 900, degrees), 44)
        pen.circle(on(centre, 900, degrees), 18, width=LINE)


def bush(pen: Pen) -> None:
    pen.ground(430, 1200, 900)
    pen.box(560, 330, 1180, 770)
    pen.rounded(560, 330, 1180, 770, lines=25)
    pen.oval((560, 550), 120, 220)
    pen.oval((560, 550), 86, 160)
    pen.hatch(_oval((560, 550), 82, 156), gap=12)
    pen.circle((900, 360), 20, width=LINE)
    pen.line((700, 420), (1100, 420), width=HAIR)
    pen.centre_line((370, 550), (1270, 550))


def brass(pen: Pen) -> None:
    """Half a bearing, as it comes out of its box."""
    pen.ground(430, 1180, 850)
    centre = (800, 820)
    outer, inner = around(centre, 430, 180, 360), around(centre, 300, 180, 360)
    pen.polygon([*outer, *reversed(inner)])
    metal = [*around(centre, 326, 180, 360), *reversed(inner)]
    pen.hatch([*outer, *reversed(around(centre, 326, 180, 360))], angle=-45, gap=13)
    pen.polygon(metal, width=LINE)
    pen.box(720, 372, 880, 420, radius=10, width=LINE)
    pen.circle((800, 446), 18, width=LINE)
    pen.centre_line((800, 320), (800, 900))
    pen.centre_line((320, 820), (1280, 820))


def pin(pen: Pen) -> None:
    pen.ground(370, 1260, 740)
    pen.box(350, 400, 450, 700, radius=24)
    pen.rounded(350, 400, 450, 700, upright=True, lines=9)
    pen.box(450, 450, 1130, 650)
    pen.rounded(450, 450, 1130, 650, lines=17)
    pen.thread(1130, 480, 1280, 620)
    pen.circle((1206, 550), 16, width=LINE)
    pen.centre_line((280, 550), (1350, 550))


def _oval(centre, rx: float, ry: float):
    return [(centre[0] + (x - centre[0]) * rx / ry, y) for x, y in around(centre, ry, 0, 360)]
