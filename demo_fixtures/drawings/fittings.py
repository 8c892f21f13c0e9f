"""Boiler, its mountings, pipes, brackets and what is left over."""

from .pen import HAIR, LINE, Pen, around, on, row


def boiler_plate(pen: Pen) -> None:
    pen.ground(330, 1270, 950)
    pen.box(320, 230, 1280, 920)
    pen.rounded(320, 230, 1280, 920, lines=29)
    for x in (370, 410, 1190, 1230):
        pen.rivets(row((x, 260), (x, 890), 15), 11)
    pen.rivets(row((470, 575), (1130, 575), 16), 11)
    pen.rivets(row((490, 625), (1110, 625), 15), 11)


def tube_plate(pen: Pen) -> None:
    centre = (800, 550)
    pen.ground(440, 1160, 960)
    pen.circle(centre, 405)
    pen.circle(centre, 372, width=LINE)
    for line in range(-5, 6):
        for place in range(-6, 7):
            x, y = 800 + 54 * place + (27 if line % 2 else 0), 560 + 47 * line
            if (x - 800) ** 2 + (y - 550) ** 2 < 318**2:
                pen.circle((x, y), 18, width=LINE)
                pen.arc((x, y), 12, 180, 290, width=HAIR)
    pen.bolt_circle(centre, 389, 40, 7)


def tubes(pen: Pen) -> None:
    pen.ground(240, 1400, 900)
    for line, count in enumerate((11, 10, 9, 8, 7, 6)):
        y = 840 - 78 * line
        for n in range(count):
            x = 340 + 46 * line + 92 * n
            pen.oval((x, y), 42, 42, width=LINE)
            pen.circle((x, y), 32, width=LINE, fill=0)
            pen.arc((x, y), 26, 100, 200, width=HAIR)


def stays(pen: Pen) -> None:
    pen.ground(320, 1290, 870)
    for n in range(5):
        y = 300 + 125 * n
        x = 300 + (40 if n % 2 else 0)
        pen.box(x + 150, y + 10, x + 760, y + 62)
        pen.rounded(x + 150, y + 10, x + 760, y + 62, lines=9)
        pen.thread(x, y, x + 150, y + 72)
        pen.thread(x + 760, y, x + 960, y + 72)


def valve(pen: Pen) -> None:
    """A steam valve with its handwheel."""
    pen.ground(480, 1130, 960)
    for x0, x1 in ((440, 500), (1100, 1160)):
        pen.box(x0, 640, x1, 920)
        pen.rounded(x0, 640, x1, 920, upright=True, lines=7)
    pen.box(500, 700, 1100, 860)
    pen.rounded(500, 700, 1100, 860, lines=13)
    pen.circle((800, 780), 150)
    pen.dished((800, 780), 30, 150, rings=9)
    pen.box(720, 470, 880, 660, radius=10)
    pen.rounded(720, 470, 880, 660, upright=True)
    pen.polygon([(700, 470), (750, 410), (850, 410), (900, 470)])
    pen.box(776, 250, 824, 412)
    pen.rounded(776, 250, 824, 412, upright=True, lines=7)
    pen.oval((800, 235), 230, 52)
    pen.oval((800, 235), 186, 30, width=LINE)
    pen.box(560, 222, 1040, 246, radius=10, width=LINE)
    pen.circle((800, 234), 30)
    pen.centre_line((800, 150), (800, 990))


def safety_valve(pen: Pen) -> None:
    pen.ground(560, 1050, 960)
    pen.box(540, 880, 1060, 950)
    pen.rivets(((580, 915), (1020, 915)), 16)
    pen.box(640, 560, 960, 880)
    pen.rounded(640, 560, 960, 880, upright=True, lines=17)
    pen.polygon([(610, 560), (680, 500), (920, 500), (990, 560)])
    for n in range(8):
        pen.line((700, 480 - 30 * n), (900, 462 - 30 * n), width=8)
    pen.box(660, 205, 940, 250, radius=8)
    pen.nut((800, 180), 44)
    for x in (672, 928):
        pen.box(x - 12, 240, x + 12, 510, width=LINE)
    pen.centre_line((800, 100), (800, 1010))


def gauge(pen: Pen) -> None:
    centre = (800, 500)
    pen.ground(560, 1040, 990)
    pen.box(750, 820, 850, 985)
    pen.rounded(750, 820, 850, 985, upright=True, lines=9)
    pen.circle(centre, 350)
    pen.dished(centre, 300, 350, rings=6)
    pen.circle(centre, 298)
    for n in range(41):
        degrees = 135 + 270 * n / 40
        pen.line(on(centre, 270 if n % 5 else 245, degrees), on(centre, 288, degrees), width=LINE if n % 5 else 6)
    pen.line(centre, on(centre, 232, 135), width=9)
    pen.circle(centre, 26, fill=0)


def pipe(pen: Pen) -> None:
    pen.ground(300, 1330, 950)
    centre = (560, 640)
    pen.box(560, 300, 1240, 420)
    pen.rounded(560, 300, 1240, 420, lines=13)
    bend = [*around(centre, 340, 180, 270), *reversed(around(centre, 220, 180, 270))]
    pen.polygon(bend)
    for radius in (232, 240, 252, 300, 318, 330):
        pen.arc(centre, radius, 180, 270, width=HAIR)
    pen.box(220, 640, 340, 860)
    pen.rounded(220, 640, 340, 860, upright=True, lines=13)
    pen.box(1240, 240, 1300, 480)
    pen.rounded(1240, 240, 1300, 480, upright=True, lines=7)
    pen.box(160, 860, 400, 920)
    pen.rivets(((190, 890), (370, 890)), 15)


def bracket(pen: Pen) -> None:
    pen.ground(470, 1180, 930)
    pen.box(470, 200, 560, 920)
    pen.rounded(470, 200, 560, 920, upright=True, lines=8)
    rib = [(560, 300), (1080, 700), (1080, 830), (560, 830)]
    pen.polygon(rib)
    pen.hatch([(560, 700), (1080, 760), (1080, 830), (560, 830)], angle=4, gap=11)
    pen.polygon([(640, 470), (880, 660), (880, 740), (640, 740)])
    pen.hatch([(640, 470), (720, 534), (720, 740), (640, 740)], angle=70, gap=11)
    pen.circle((1080, 765), 104)
    pen.dished((1080, 765), 48, 104)
    pen.circle((1080, 765), 46)
    pen.rivets(row((515, 250), (515, 870), 5), 19)
    pen.centre_line((920, 765), (1240, 765))


def brake_block(pen: Pen) -> None:
    pen.ground(560, 1010, 985)
    centre = (1420, 560)
    shape = [*around(centre, 720, 148, 212), *reversed(around(centre, 560, 146, 214))]
    pen.polygon(shape)
    pen.hatch([*around(centre, 720, 148, 212), *reversed(around(centre, 660, 148, 212))], angle=0, gap=12)
    pen.polygon([(560, 480), (720, 470), (720, 650), (560, 640)])
    pen.circle((620, 560), 44)
    pen.circle((620, 560), 24, width=LINE)
    for degrees in (160, 180, 200):
        pen.line(on(centre, 562, degrees), on(centre, 640, degrees), width=LINE)


def tank(pen: Pen) -> None:
    pen.ground(190, 1420, 930)
    pen.box(180, 330, 1420, 900, radius=10)
    pen.polygon([(180, 334), (260, 260), (1480, 260), (1420, 334)])
    pen.polygon([(1420, 334), (1480, 260), (1480, 830), (1420, 900)])
    pen.hatch([(1420, 334), (1480, 260), (1480, 830), (1420, 900)], angle=80, gap=9)
    for y in (365, 865):
        pen.rivets(row((215, y), (1385, y), 33), 8)
    for x in (215, 800, 1385):
        pen.rivets(row((x, 400), (x, 830), 13), 8)
    pen.oval((420, 296), 110, 26)
    for n in range(9):
        pen.line((215 + 16 * n, 560 + 30 * n), (520 - 22 * n, 560 + 30 * n), width=HAIR)
        pen.line((1100 + 24 * n, 430 + 22 * n), (1360 - 12 * n, 430 + 22 * n), width=HAIR)


def number_plate(pen: Pen) -> None:
    pen.ground(470, 1130, 850)
    pen.oval((800, 550), 400, 270)
    pen.hatch([(800 + (x - 800) * 400 / 270, y) for x, y in around((800, 550), 268, 0, 360)], angle=0, gap=11)
    pen.oval((800, 550), 362, 234, width=LINE)
    for x in (500, 1100):
        pen.circle((x, 550), 18)
        pen.line((x - 10, 556), (x + 10, 544), width=LINE)
    figure: list[tuple[float, float]] = [(700, 395), (900, 395), (900, 450), (762, 450), (762, 510)]
    figure += [
        *around((795, 602), 112, 250, 480),
        (720, 650),
        (772, 632),
        *reversed(around((795, 602), 56, 235, 490)),
        (700, 560),
    ]
    pen.polygon(figure)


def lamp(pen: Pen) -> None:
    pen.ground(600, 1000, 970)
    pen.box(620, 380, 980, 950, radius=14)
    pen.rounded(620, 380, 980, 950, upright=True, lines=13)
    pen.polygon([(600, 380), (700, 260), (900, 260), (1000, 380)])
    pen.circle((800, 640), 150)
    pen.dished((800, 640), 60, 150, rings=8)
    pen.line((720, 560), (790, 640), (760, 700), (850, 740), width=5)
    pen.arc((800, 250), 110, 190, 350, width=14)


def grate_bars(pen: Pen) -> None:
    pen.ground(260, 1350, 900)
    for n in range(7):
        x, y = 250 + 26 * n, 780 - 82 * n
        pen.polygon([(x, y), (x + 930, y - 40), (x + 930, y + 10), (x + 520, y + 92), (x + 400, y + 98), (x, y + 50)])
        pen.hatch([(x, y + 30), (x + 930, y - 10), (x + 930, y + 10), (x + 520, y + 92), (x, y + 50)], angle=8, gap=9)


def four_holes(pen: Pen) -> None:
    """What is left where a box stood: holes in a plate, and the rub mark of an outline."""
    pen.ground(300, 1310, 930)
    pen.box(260, 220, 1340, 900)
    pen.rounded(260, 220, 1340, 900, lines=25)
    pen.box(560, 360, 1040, 780, width=HAIR)
    for at in ((620, 420), (980, 420), (620, 720), (980, 720)):
        pen.circle(at, 24)
        pen.arc(at, 15, 180, 300, width=HAIR)
    pen.rivets(row((300, 260), (1300, 260), 14), 11)
