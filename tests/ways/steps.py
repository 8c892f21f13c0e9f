"""What the ways back have in common, by the verbs of `tests/without_scripts.py`."""

from datetime import date, timedelta

from tests.demo_copy import PASSWORD
from tests.ways.scenery import LOCOMOTIVE


def days(number: int) -> str:
    """So many days from today, as a date field takes it."""
    return (date.today() + timedelta(days=number)).isoformat()


def refused(person, button: str, *sentences: str) -> None:
    """The form comes back with the sentence and its mend, and everything that was typed."""
    assert person.press(button) == 422, person.text()
    for sentence in sentences:
        person.sees(sentence, at="#errors")


def done(person, button: str, *told: str) -> None:
    assert person.press(button) == 302, person.text()
    for sentence in told:
        person.sees(sentence)


def needs(person, place: int, subassembly: str, need: str, *told: str, way: str = "") -> None:
    """The subassembly's page and the place's page say the need, why, and the way out."""
    person.open(f"/l/{LOCOMOTIVE}/s/{subassembly}/")
    section = f"#need-{need.replace(' ', '-')}"
    for sentence in told or ("",):
        person.sees(sentence, at=section)
    if way:
        person.sees(way, at=f"{section} .row-way")
    person.open(f"/p/{place}/")
    person.sees(need, at=".next")


def cleaned(volunteer, code: str) -> None:
    volunteer.reach(code, "Mark it cleaned", "do/clean")
    done(volunteer, "Hot wash", "Marked cleaned.")


def looked_at(examiner, code: str, result: str, found: str = "") -> None:
    examiner.reach(code, "Sign the visual examination", "examine")
    examiner.choose("look", "visual")
    examiner.choose("result", result)
    examiner.fill(found=found)
    done(examiner, "Read it over, then sign")
    done(examiner, "Sign it", "Signed: ")


def crack_checked(examiner, code: str, result: str, found: str = "", stage: str = "", magnet: str = "") -> None:
    """Where the material is not known, one is asked why a magnet tells."""
    examiner.reach(code, "Sign the crack check", "crack-check")
    examiner.choose("method", "magnetic particle")
    if stage:
        examiner.unfold("the stage of a weld repair")
        examiner.fill(stage=stage)
    examiner.fill(procedure="WP 1", technique="yoke", equipment="yoke 1", consumables="ink 1")
    examiner.follow("Reached")
    examiner.choose("viewing", "colour contrast")
    examiner.fill(light_lux="800")
    examiner.choose("two_directions")
    examiner.choose("demagnetised", "yes")
    examiner.follow("Result")
    examiner.choose("result", result)
    if found:
        examiner.fill(found=found)
    if magnet:
        refused(examiner, "Read it over, then sign", "No material is given: try a magnet.")
        examiner.fill(**{"reason-material-unknown": magnet})
        examiner.follow("Result")
    done(examiner, "Read it over, then sign")
    done(examiner, "Sign it", "Signed: ")


def measured(examiner, code: str, size: int, *read: str) -> None:
    examiner.reach(code, "Sign the measurements", "measure")
    read_and_signed(examiner, size, *read)


def read_and_signed(examiner, size: int, instrument: str, figure: str, verdict: str) -> None:
    """The verdict is what the result follows."""
    examiner.fill(**{f"with-{size}": instrument, f"size-{size}-0": figure})
    examiner.ask("Check what is typed")
    examiner.sees(verdict, at=f"#verdict-{size}")
    examiner.choose("result", "sound" if verdict == "as new" else "defect")
    done(examiner, "Read it over, then sign")
    done(examiner, "Sign it", "Signed: ")


def found_good(engineer, code: str, action: str, button: str) -> None:
    engineer.reach(code, button, f"do/{action}")
    engineer.choose("protection", "oiled")
    done(engineer, button)


def refitted(fitter, code: str, checker: str = "") -> None:
    fitter.reach(code, "Refit it", "do/refit")
    if checker:
        fitter.fill(checker=checker, checker_password=PASSWORD)
    done(fitter, "Refit it", "Refitted.")
