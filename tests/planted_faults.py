"""Thirty small faults, each planted in a copy of the source in turn: do the tests that ought to see it fail?

python -m tests.planted_faults            all of them; it ends with 1 if one survived
python -m tests.planted_faults look       those whose description has this word

It is no test and the suite does not run it: it takes some minutes. A fault is found by its text, which stands in one
file only, and its tests by the names of their files, so both may move.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

from tests.running import ROOT

APPS = ("core", "parts", "inspections")
NOT_COPIED = shutil.ignore_patterns(".git", ".venv", "__pycache__", ".ruff_cache", ".pytest_cache")


class Fault(NamedTuple):
    what: str
    right: str
    wrong: str
    tests: str  # names of the files that ought to see it, without .py


FAULTS = (
    # --- parts, domain
    Fault("a hold point no longer keeps a subassembly from being clear",
          "own.blocked == own.blocked_ordered and not stopped", "own.blocked == own.blocked_ordered",
          "test_readiness test_readiness_on_any"),
    Fault("a subassembly with nothing required counts as finished",
          "return id in self.complete and self.branch[id].required > 0", "return id in self.complete",
          "test_readiness test_readiness_on_any"),
    Fault("what a subassembly waits for is told with the least first",
          "key=lambda wait: -wait.places", "key=lambda wait: wait.places", "test_readiness test_readiness_on_any"),
    Fault("a look-again date is missed on its very day",
          "and piece.look_again <= today", "and piece.look_again < today", "test_piece_needs test_needs"),
    Fault("a calibration has lapsed on its last day already",
          "size.calibrated_until < today", "size.calibrated_until <= today", "test_measured test_piece_needs"),
    Fault("a concession lasts a day too long",
          "if ended and ended <= today:", "if ended and ended < today:", "test_measured test_piece_needs"),
    Fault("a works' word is enough for a pressure part",
          "(place.safety_critical or place.pressure_part)\n        and piece.state in PASSED",
          "place.safety_critical\n        and piece.state in PASSED", "test_piece_needs test_needs"),
    Fault("a cleaning undoes no look at the surface",
          "return max(piece.bared_event, piece.cleaned_event) if kind in LOOKS else piece.bared_event",
          "return piece.bared_event", "test_exams_due test_conditions_looks"),
    Fault("a crack check of a hole dug out counts for the piece",
          " and x.stage != EXCAVATION", "", "test_exams_due test_welds"),
    Fault("a check between finding and decision answers a crack",
          "sound > max(x.event, x.decided_event)", "sound > x.event", "test_exams_due"),
    Fault("whatever is withdrawn is said to be cracked",
          "(CRACKED,) if context.cracked else ()", "(CRACKED,)", "test_cautions"),
    Fault("nobody is warned before a piece is taken off",
          "    cautioned=usual(\"take off\"),\n", "", "test_cautions"),
    Fault("a list that was only looked at is told as added",
          "'It would add' if dry_run else 'Added'", "'Added' if dry_run else 'It would add'",
          "test_import_plan test_importing test_import_register"),
    Fault("a new piece may not take the last free room of its place",
          "if filled + piece.quantity > place.quantity:\n        return Refusal(\"place-taken\"",
          "if filled + piece.quantity >= place.quantity:\n        return Refusal(\"place-taken\"",
          "test_conditions_place test_conditions_forms test_states_matrix"),
    Fault("a piece goes into another that is done or shut",
          "not place.part_of_there or place.outer in DONE_OR_SHUT", "not place.part_of_there",
          "test_conditions_place test_states_matrix"),
    # --- inspections, domain
    Fault("exactly on an open limit passes",
          "return distance > line if is_open else distance >= line", "return distance >= line",
          "test_verdicts test_decision_rules"),
    Fault("a plate that is down to its required thickness lasts for ever",
          "if left <= 0:\n        return Fraction(0)\n    return left / per_year",
          "if left < 0:\n        return Fraction(0)\n    return left / per_year",
          "test_thickness test_thickness_rates"),
    Fault("exactly three times its width is a linear indication",
          "length > LENGTH_TO_WIDTH * width", "length >= LENGTH_TO_WIDTH * width", "test_indications"),
    Fault("exactly on the acceptance level is beyond it",
          "acceptable = length <= most", "acceptable = length < most", "test_indications"),
    Fault("in doubt at the shop limit is as bad as at the scrapping limit",
          "if verdict.size_class is SizeClass.NOT_PROVED and at_scrapping:",
          "if verdict.size_class is SizeClass.NOT_PROVED:", "test_sizing"),
    Fault("an instrument does not reach to the end of its range",
          "elif high is not None and value > high:", "elif high is not None and value >= high:", "test_instruments"),
    # --- actions
    Fault("an accepted piece stays in quarantine",
          "\"look_again\": given.look_again, \"quarantined\": False}", "\"look_again\": given.look_again}",
          "test_accept test_decisions"),
    Fault("a place that lacks some of its pieces is known empty no longer",
          "if place and place.known_empty and is_full(place):", "if place and place.known_empty:",
          "test_bring_back test_withdraw test_pieces test_strip"),
    Fault("what goes from firm to firm is away since the last move only",
          "if away and not was_away:", "if away:", "test_moving"),
    Fault("what is split off an accepted lot stays accepted",
          "LOOKED_AT = (S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED)",
          "LOOKED_AT = (S.CRACK_CHECKED, S.RENEWED)", "test_pieces test_new_pieces"),
    Fault("a look that found a fault answers a look-again date",
          "    if examination.result != Result.SOUND:\n        return\n    due, place", "    due, place", "test_sign"),
    # --- views
    Fault("a form that only the engineer may pass opens for everybody",
          "for refusal in against) or (against and not context.engineer):", "for refusal in against):", "test_act"),
    Fault("a refit of what can hurt somebody needs no signature",
          "    signed_if_critical=True,\n    judges_order=True,", "    judges_order=True,", "test_act"),
    Fault("a scan of an unused tag leads everybody to stripping",
          "if is_stripping(request) and may(request.user.role_names, \"strip\"):", "if is_stripping(request):",
          "test_tag test_strip"),
    Fault("a photo of tags that are not ours is told as found",
          "status=200 if tags else 404", "status=200", "test_scan"),
)  # fmt: skip


def main(words: list[str]) -> int:
    chosen = [fault for fault in FAULTS if all(word in fault.what for word in words)]
    survived = []
    with tempfile.TemporaryDirectory() as scratch:
        copy = Path(shutil.copytree(ROOT, Path(scratch) / "copy", ignore=NOT_COPIED))
        for number, fault in enumerate(chosen, 1):
            caught = plant(copy, fault)
            survived += [] if caught else [fault]
            print(f"{number:2} {'caught  ' if caught else 'SURVIVED'} {fault.what}", flush=True)
    print(f"{len(chosen) - len(survived)} of {len(chosen)} caught.")
    return 1 if survived else 0


def plant(copy: Path, fault: Fault) -> bool:
    """Whether its tests fail with it. They are to pass without it, which the suite sees to."""
    file = home_of(copy, fault)
    right = file.read_text("utf-8")
    file.write_text(right.replace(fault.right, fault.wrong), "utf-8")
    try:
        return tests_fail(copy, fault)
    finally:
        file.write_text(right, "utf-8")


def home_of(copy: Path, fault: Fault) -> Path:
    """The one file that the fault can be planted in, in one place."""
    sources = [file for app in APPS for file in (copy / app).rglob("*.py")]
    found = [file for file in sources for _ in range(file.read_text("utf-8").count(fault.right))]
    if len(found) != 1:
        raise SystemExit(f"“{fault.what}”: its text stands in {len(found)} places, and it should be one.")
    return found[0]


def tests_fail(copy: Path, fault: Fault) -> bool:
    files = [file for name in fault.tests.split() for file in sorted((copy / "tests").rglob(f"{name}.py"))]
    if not files:
        raise SystemExit(f"“{fault.what}”: there is none of its tests, {fault.tests}.")
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *map(str, files)]
    clean = {name: value for name, value in os.environ.items() if not name.startswith("COTTER_")}
    done = subprocess.run(command, cwd=copy, env=clean, capture_output=True, text=True)
    if done.returncode not in (0, 1):
        raise SystemExit(f"“{fault.what}”: pytest did not run.\n{done.stdout[-2000:]}{done.stderr[-2000:]}")
    return done.returncode == 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
