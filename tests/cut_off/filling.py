"""How each form is filled in, as a person does it."""

import re

from tests.browser.watching import Person, chosen
from tests.demo_copy import PASSWORD
from tests.pictures import a_photo


def photo(person: Person, field: str) -> None:
    person.page.locator(f"#{field}").set_input_files([chosen(a_photo())])


def another_way(person, address):
    person.page.locator("summary", has_text="Another way").click()
    person.page.locator("[name=method_other]").fill("scraped by hand, then paraffin")


def where_it_stands(person, address):
    person.page.locator("summary", has_text="What else can be done here").click()
    where_to(person, address)


def where_to(person, address):
    told = person.page.locator("main").inner_text()
    places = [place.get_attribute("value") for place in person.page.locator("datalist option").all()]
    elsewhere = [place for place in places if place not in told]  # where it lies already it cannot be moved to
    person.page.get_by_label("Where to").fill(elsewhere[-1])


def a_loose_piece(person, address):
    person.page.locator("[name=name]").fill(address.split("#")[1])
    photo(person, "photo")


def what_is_wrong(person, address):
    person.page.locator("[name=why]").fill("The sling is frayed (invented).")


def a_code(person, address):
    person.page.locator("#code").fill(address.split("#")[1])


def step(person, name):
    """A page that is opened again begins with its first step."""
    person.page.locator(".step:visible nav").get_by_role("link", name=name, exact=True).click()


def by_which_method(person, address):
    person.choose("method", "magnetic particle")
    for name in ("procedure", "technique", "equipment", "consumables"):
        person.page.locator(f"[name={name}]").fill("WP 1, yoke 1, ink 1 (invented)")


def what_was_reached(person, address):
    step(person, "Reached")
    person.choose("viewing", "colour contrast")
    person.page.get_by_label("Light on the surface").fill("800")
    for surface in person.page.locator("[name^=reached]").all():
        surface.check()
    person.page.get_by_label("two directions about 90° apart").check()
    person.choose("demagnetised", "yes")


def what_it_showed(person, address):
    page = person.page
    step(person, "Marks")
    if page.locator("[data-tap]").count():
        page.locator("[data-tap] input[type=image]").click(position={"x": 60, "y": 40})
    else:
        page.locator("[data-add]").click()
    page.locator("[name=mark-0-length]").fill("12")
    page.locator("[name=mark-0-where]").fill("at the fillet")


def what_it_comes_to(person, address):
    step(person, "Result")
    person.choose("result", "indication")


A_CRACK_CHECK = (by_which_method, what_was_reached, what_it_showed, what_it_comes_to)


def a_look(person, address):
    person.choose("look", "visual")
    for surface in person.page.locator("[name^=reached]").all():
        surface.check()
    person.choose("result", "sound")
    person.page.locator("[name=remarks]").fill("Looked at in daylight.")


def a_measurement(person, address):
    """As new, of each size; what is questioned is answered."""
    page = person.page
    for number, sheet in enumerate(page.locator("[data-size]").all()):
        drawing = re.search(r"Drawing ([\d.]+) in", " ".join(sheet.inner_text().split()))
        sheet.locator("[data-with]").select_option(index=1 + number % 2)
        sheet.get_by_label("in", exact=True).check()
        for figure in sheet.locator("[name^=size-]").all():
            figure.fill(drawing[1] if drawing else "2.5")
    page.wait_for_timeout(1500)  # until each is judged
    for why in page.locator("[name^=why-]").all():
        why.fill("Measured twice (invented).")
    person.choose("result", "sound")
    page.locator("[name=remarks]").fill("At 18 °C.")


def a_decision(person, address):
    person.page.locator("summary", has_text="Weigh the ways").click()
    person.page.locator("[name=option1-what]").fill("build it up and machine it")
    person.page.locator("[name=option1-estimate]").fill("250")
    person.choose("outcome", "repair")
    person.page.locator("[name=reason]").fill("Sound but for the wear (invented).")
    person.page.locator("[name=method]").select_option(index=1)
    person.page.locator("[name=what]").fill("built up by welding")


def what_is_seen(person, address):
    person.page.locator("[name=marks]").fill("K 12 stamped")
    person.page.locator("[name=notes]").fill("Two studs are new.\nThe third is bent.")


def how_held(person, address):
    person.page.locator("[name=locked]").fill(f"split pin {address.split('#')[1]}")


def a_picture(person, address):
    photo(person, "photos")


def found_of_stays(person, address):
    for stay in person.page.locator(".readings select").all()[:6]:
        stay.select_option(index=1)
    person.page.locator("[name=least]").fill("1.1 = 18.5 mm")


def nothing(person, address):
    """It is one button."""


def readings(person, address):
    for number, point in enumerate(person.page.locator(".readings input").all()[:6]):
        point.fill(f"12.{number}")


def a_boiler_test(person, address):
    """As far as it went before the network did: what is missing is asked for before it is signed."""
    for name, words in {
        "reached": "225 lb/in²",
        "most": "230 lb/in²",
        "leaks": "wrapper, row 3, column 2: weep\nfoundation ring, LH corner: drip",
        "found": "Nothing moved (invented).",
        "witness": "A. Surveyor (invented)",
    }.items():
        person.page.locator(f"[name={name}]").fill(words)


def what_both_saw(person, address):
    for name, number in {"tools_in": 9, "tools_out": 9, "rags_in": 4, "rags_out": 4}.items():
        person.page.locator(f"[name={name}]").fill(str(number))
    person.page.locator("[name=seen]").fill("Wiped out and oiled, every pin in sight (invented).")
    person.page.locator("[name=checker]").select_option(label="Ines Tamwright")
    the_checker_proves(person)


def the_checker_proves(person):
    """Never kept on the phone."""
    person.page.locator("[name=checker_password]").fill(PASSWORD)


def what_becomes_of_it(person, address):
    person.page.locator("input[value=repair]").first.check()
    person.page.locator("[name=reason]").last.fill("Ground out and welded up (invented).")


def why_it_goes_on(person, address):
    person.page.locator("[name=reason]").fill("Looked at: the sling was renewed (invented).")
