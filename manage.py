#!/usr/bin/env python3
"""Cotter's command line: `python manage.py help` lists what it can do."""

import gc
import os
import sys


def main() -> None:
    gc.set_threshold(50_000, 20, 20)  # looking through all objects so often took a sixth of every start
    os.environ["DJANGO_SETTINGS_MODULE"] = "workshop.settings"
    if sys.argv[1:2] == ["demo"]:
        os.environ["COTTER_DEMO"] = "1"  # before the settings are read: the demo has a data folder of its own
    try:
        from workshop.upgrading.command_line import run
    except ModuleNotFoundError:
        raise SystemExit("Cotter is not installed yet. Run: python3 run.py demo") from None
    run(sys.argv)


if __name__ == "__main__":
    main()
