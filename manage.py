#!/usr/bin/env python3
"""Cotter's command line: `python manage.py help` lists what it can do."""

import os
import sys


def main() -> None:
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
