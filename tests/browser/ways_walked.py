"""What the three ways back share: the register they are walked in, its people, and readiness looked at on the way."""

from datetime import date, timedelta

from playwright.sync_api import expect

from tests.browser.watching import STATE
from tests.demo_copy import PASSWORD, Register

LOCOMOTIVE = "three-ways"
PLACE = (
    "SELECT id FROM parts_position WHERE name = ? AND locomotive_id = (SELECT id FROM parts_locomotive WHERE slug = ?)"
)
CODE = "SELECT code FROM parts_tag WHERE current AND component_id = (SELECT id FROM parts_component WHERE place_id = ?)"


class Works(Register):
    """A served register that is no demo."""

    def __init__(self, address, folder):
        super().__init__(address, folder)
        self.data = folder

    def place(self, name: str) -> int:
        return self.one(PLACE, name, LOCOMOTIVE)

    def piece_of(self, name: str) -> str:
        return self.one(CODE, self.place(name))

    def state(self, code: str) -> str:
        return self.one(STATE, code)


def days(number: int) -> str:
    """So many days from today, as a date field takes it."""
    return (date.today() + timedelta(days=number)).isoformat()


def fills(person, **entered) -> None:
    """Each field by its name; what is chosen from a list by its words."""
    for name, value in entered.items():
        field = person.page.locator(f"[name='{name.replace('__', '-')}']")
        if field.first.evaluate("field => field.tagName") == "SELECT":
            field.select_option(label=value)
        else:
            field.fill(value)


def follows(person, link: str) -> None:
    """By the words on the button, as somebody reads them."""
    person.page.get_by_role("link", name=link, exact=True).first.click()
    person.page.wait_for_load_state()
    person.fits()


def refused(person, button: str, *sentences: str) -> None:
    """The form comes back with the sentence and its mend, and everything that was typed."""
    assert person.press(button) == 422
    for sentence in sentences:
        expect(person.page.locator("#errors")).to_contain_text(sentence)


def done(person, button: str, *told: str) -> None:
    status = person.press(button)
    assert status == 302, person.page.locator("main").inner_text()
    for sentence in told:
        person.sees(sentence)


def needs(person, place: int, subassembly: str, need: str, *told: str, way: str = "") -> None:
    """The subassembly's page and the place's page say the need, why, and the way out."""
    person.open(f"/l/{LOCOMOTIVE}/s/{subassembly}/")
    person.fits()
    section = person.page.locator(f"#need-{need.replace(' ', '-')}")
    expect(section).to_have_count(1)
    for sentence in told:
        expect(section).to_contain_text(sentence)
    if way:
        expect(section.locator(".row-way")).to_contain_text(way)
    person.open(f"/p/{place}/")
    person.fits()
    expect(person.page.locator(".next").first).to_contain_text(need)


def cleaned(volunteer, code: str) -> None:
    volunteer.open(f"/t/{code}/do/clean")
    done(volunteer, "Hot wash", "Marked cleaned.")


def looked_at(examiner, code: str, result: str, found: str = "") -> None:
    examiner.open(f"/t/{code}/examine")
    examiner.choose("look", "visual")
    examiner.choose("result", result)
    fills(examiner, found=found)
    examiner.press("Read it over, then sign")
    done(examiner, "Sign it", "Signed: ")


def crack_checked(examiner, code: str, result: str, found: str = "", stage: str = "") -> None:
    examiner.open(f"/t/{code}/crack-check")
    examiner.choose("method", "magnetic particle")
    if stage:
        examiner.page.locator("summary", has_text="the stage of a weld repair").click()
        fills(examiner, stage=stage)
    fills(examiner, procedure="WP 1", technique="yoke", equipment="yoke 1", consumables="ink 1")
    step(examiner, "Reached")
    examiner.choose("viewing", "colour contrast")
    fills(examiner, light_lux="800")
    for surface in examiner.page.locator("[name^=reached]").all():
        surface.check()
    examiner.page.locator("[name=two_directions]").check()
    examiner.choose("demagnetised", "yes")
    step(examiner, "Result")
    examiner.choose("result", result)
    if found:
        fills(examiner, found=found)
    if examiner.press("Read it over, then sign") == 422:
        examiner.page.locator("[name=reason-material-unknown]").fill("A magnet holds.")
        step(examiner, "Result")
        assert examiner.press("Read it over, then sign") == 302
    assert examiner.press("Sign it") == 302
    examiner.sees("Signed: ")


def step(examiner, name: str) -> None:
    """Of the sheet of a crack check."""
    examiner.page.locator(".step:visible").get_by_role("link", name=name, exact=True).click()


def measured(examiner, code: str, sheet: str, size: int, instrument: str, figure: str, verdict: str) -> None:
    """The verdict stands there while it is typed, and is what the result follows."""
    page = examiner.page
    examiner.open(f"/t/{code}/{sheet}")
    options = page.locator(f"#with-{size} option").all_inner_texts()
    page.locator(f"#with-{size}").select_option(label=next(text for text in options if instrument in text))
    page.locator(f"[name=size-{size}-0]").fill(figure)
    expect(page.locator(f"#verdict-{size}")).to_contain_text(verdict)
    examiner.choose("result", "sound" if verdict == "as new" else "defect")
    page.get_by_role("button", name="Read it over, then sign", exact=True).click()  # it posts while one types
    page.get_by_role("button", name="Sign it", exact=True).click()
    examiner.sees("Signed: ")


def found_good(engineer, code: str, action: str, button: str) -> None:
    engineer.open(f"/t/{code}/do/{action}")
    engineer.choose("protection", "oiled")
    done(engineer, button)


def refitted(fitter, code: str, checker: str = "") -> None:
    fitter.open(f"/t/{code}/do/refit")
    if checker:
        fills(fitter, checker=checker, checker_password=PASSWORD)
    done(fitter, "Refit it", "Refitted.")
