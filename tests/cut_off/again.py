"""Each form cut off in each way, again and again: python -m tests.cut_off --times 20 [--only crack]

Each case is told as it ends. Once is a quick look, for which a demo built before the last changes will do."""

import argparse
import shutil
import tempfile
import time as clock
import traceback
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests import tools
from tests.browser.watching import PHONE, Person, window
from tests.cut_off.cuts import Case, cut_off, cuts_of
from tests.cut_off.forms import FORMS
from tests.cut_off.scene import Scene
from tests.cut_off.wire import Wire
from tests.demo_copy import Register, a_demo, the_demo
from tests.running import Address, serving

AT = {"http": "shed.local", "https": "127.0.0.1"}
"""A name that browsers trust only with HTTPS, and an address that they trust as they trust HTTPS."""


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--times", type=int, default=1)
    asked.add_argument("--only", default="", help="part of a form's or a cut's name")
    asked.add_argument("--at", choices=("http", "https"), help="only there; else both")
    asked = asked.parse_args()
    tried, failed = 0, []
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=tools.chromium(), args=tools.CHROMIUM_FLAGS)
        demo = told("The demo", a_demo if asked.times == 1 else the_demo)
        for time in range(asked.times):
            folder = Path(shutil.copytree(demo, Path(scratch) / str(time)))
            with serving(folder, COTTER_DEMO="1") as address:
                scene, wire, windows = Scene(Register(address, folder)), Wire(address), Windows(browser)
                for scheme, form, cuts in cases(asked, time):
                    what = f"{scheme}, time {time + 1}, {form.name}, {', '.join(cut.__name__ for cut in cuts)}"
                    there = named(wire, address, AT[scheme])
                    wrong = told(what, lambda: trouble(windows, there, wire, scene, form, cuts, time))  # noqa: B023
                    tried += len(cuts)
                    failed += [f"{what}: {wrong}"] if wrong else []
                windows.close_all()
                wire.close()
            shutil.rmtree(folder)
        browser.close()
    print(f"{tried} cut off, {len(failed)} not as they should be.", *failed, sep="\n")
    return 1 if failed else 0


def cases(asked, time: int) -> Iterator[tuple]:
    for scheme in AT:
        for form in FORMS:
            for cuts in cuts_of(form, time):
                if asked.at in (None, scheme) and asked.only in f"{form.name} {cuts[0].__name__}":
                    yield scheme, form, cuts


def told(what: str, do):
    """What `do` answers, told as soon as it does, with how long it took."""
    began = clock.monotonic()
    print(what, end=": ", flush=True)
    answer = do()
    print(f"{answer or 'as it should be'}, {clock.monotonic() - began:.0f} s", flush=True)
    return answer


def named(wire: Wire, served: Address, name: str) -> Address:
    other = Address(wire.address.replace("127.0.0.1", name))
    other.process = served.process
    return other


class Windows:
    """A window for each person at each address, used again until something goes wrong in it."""

    def __init__(self, browser):
        self.browser, self.open = browser, {}

    def of(self, address: Address, who: str) -> Person:
        if (address, who) not in self.open:
            stack = ExitStack()
            self.open[address, who] = (
                stack.enter_context(window(self.browser, address, who, service_workers="allow", **PHONE)),
                stack,
            )
        person, _ = self.open[address, who]
        old, person.page = person.page, person.page.context.new_page()
        old.close()  # it may just be going on by itself
        return person

    def close(self, address: Address, who: str) -> None:
        if found := self.open.pop((address, who), None):
            found[0].complaints.clear()  # of a network that was gone
            found[1].close()

    def close_all(self) -> None:
        for address, who in list(self.open):
            self.close(address, who)


def trouble(windows, address, wire, scene, form, cuts, turn) -> str:
    try:
        person = windows.of(address, form.who)
        cut_off(Case(form, person, wire, scene.register, form.begin(scene, person.hands())), cuts, turn)
    except Exception as wrong:  # whatever it is, it is told, and the others go on
        windows.close(address, form.who)
        ours = [frame for frame in traceback.extract_tb(wrong.__traceback__) if "cut_off" in frame.filename][-1]
        return f"{ours.name}, line {ours.lineno}: {' '.join(str(wrong).split())[:300]}"
    return ""
