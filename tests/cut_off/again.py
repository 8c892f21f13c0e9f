"""Each form cut off in each way, again and again: python -m tests.cut_off --times 20 [--only crack]"""

import argparse
import shutil
import tempfile
import traceback
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests import tools
from tests.browser.watching import PHONE, window
from tests.cut_off.cuts import Case, cut_off, cuts_of
from tests.cut_off.forms import FORMS, Scene
from tests.cut_off.wire import Wire
from tests.demo_copy import Register, the_demo
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
        for time in range(asked.times):
            folder = Path(shutil.copytree(the_demo(), Path(scratch) / str(time)))
            with serving(folder, COTTER_DEMO="1") as address:
                scene, wire = Scene(Register(address, folder)), Wire(address)
                for scheme, name in AT.items():
                    if asked.at not in (None, scheme):
                        continue
                    there = named(wire, address, name)
                    for form in FORMS:
                        for cut in cuts_of(form):
                            if asked.only not in f"{form.name} {cut.__name__}":
                                continue
                            tried += 1
                            if wrong := trouble(browser, there, wire, scene, form, cut):
                                failed.append(f"{form.name}, {cut.__name__}, {name}, time {time + 1}: {wrong}")
                                print(failed[-1], flush=True)
                wire.close()
            shutil.rmtree(folder)
        browser.close()
    print(f"{tried} cut off, {len(failed)} not as they should be.")
    return 1 if failed else 0


def named(wire: Wire, served: Address, name: str) -> Address:
    other = Address(wire.address.replace("127.0.0.1", name))
    other.process = served.process
    return other


def trouble(browser, address, wire, scene, form, cut) -> str:
    try:
        with window(browser, address, form.who, **PHONE) as person:
            cut_off(Case(form, person, wire, scene.register, form.begin(scene, person)), cut)
            person.complaints.clear()  # of a network that was gone
    except Exception as wrong:  # whatever it is, it is told, and the others go on
        ours = [frame for frame in traceback.extract_tb(wrong.__traceback__) if "cut_off" in frame.filename][-1]
        return f"{ours.name}, line {ours.lineno}: {' '.join(str(wrong).split())[:300]}"
    return ""
