"""Each form of the shed as its page is served: the phone keeps it, each field is one that it puts back, and sent twice
under one key it is done once. `tests/browser/test_cut_off.py` cuts the different ones off in a browser."""

import re
from html import unescape

import pytest
from django.core.files.storage import FileSystemStorage, storages
from django.db import connection
from django.test import Client

from core.models import Person
from tests.as_shown import sent_back
from tests.cut_off.forms import FORMS
from tests.cut_off.scene import Scene
from tests.demo_copy import PASSWORD, Register
from tests.hands import Hands
from tests.pictures import a_photo

pytestmark = pytest.mark.django_db

KEY, SIGNED = "0123456789abcdef" * 2, "fedcba9876543210" * 2
PUT_BACK = {
    "text",
    "search",
    "number",
    "date",
    "datetime-local",
    "time",
    "checkbox",
    "radio",
    "file",
    "select",
    "textarea",
}
"""Kinds that `static/js/drafts.js` keeps."""


class Here(Register):
    """The demo in the tests' database."""

    def __init__(self):
        """It is served nowhere."""

    def rows(self, sql, *values):
        with connection.cursor() as cursor:
            cursor.execute(sql.replace("%", "%%").replace("?", "%s"), values)
            return cursor.fetchall()


@pytest.fixture(scope="module")
def demo(demo_in_the_database):
    """Nobody is signed in to it yet."""


@pytest.fixture(autouse=True)
def photos_elsewhere(demo, monkeypatch, tmp_path):
    """Where no other test looks: the folder of the demo is theirs too."""
    for key in ("originals", "pictures"):
        monkeypatch.setitem(storages._storages, key, FileSystemStorage(tmp_path / key))


def hands_of(username: str) -> Hands:
    client = Client()
    client.force_login(Person.objects.get(username=username))

    def ask(method, address, body, headers):
        kind = headers.get("Content-Type", "")
        mine = {
            f"HTTP_{name.upper().replace('-', '_')}": value for name, value in headers.items() if "Cont" not in name
        }
        answer = client.generic(method, address, body, kind, **mine)
        assert answer.status_code < 400, f"{method} {address}: {answer.status_code} {told(answer)}"
        return answer.get("Location", ""), answer.content.decode()

    return Hands(ask)


def told(answer) -> str:
    return re.sub(r"<[^>]*>|\s+", " ", answer.content.decode().partition('id="errors"')[2][:3000])


class Shown:
    """The last form of a page that has this button, or that which the address ends in."""

    def __init__(self, form, page, address):
        forms = [one[0] for one in re.finditer(r"<form\b[^>]*>.*?</form>", page.main, re.DOTALL)]
        if "button[" in form.button:
            job = address.rpartition("-")[2]
            wanted = [one for one in forms if f'/day-jobs/{job}"' in one and 'value="done"' in one]
        else:
            wanted = [one for one in forms if form.button in buttons(one)]
        self.page, self.html = page, wanted[-1]
        self.head = re.match(r"<form\b[^>]*>", self.html)[0]
        action = re.search(r' action="([^"]*)"', self.head)
        self.there = sent_back(self.html + '<form method="post">', action[1] if action else "")
        self.action = unescape(action[1]) if action else page.address.partition("#")[0]

    def fields(self) -> list[tuple[str, str]]:
        """What a person enters: names and kinds."""
        found = re.findall(r'<(input|textarea|select)\b([^>]*? name="([^"]*)"[^>]*)>', self.html)
        kinds = [(unescape(name), kind_of(tag, more)) for tag, more, name in found]
        return [(name, kind) for name, kind in kinds if kind not in ("hidden", "submit", "image")]

    def with_these(self, entered: dict) -> dict:
        """As the phone sends it: all that is there, or where several write, what changed."""
        hidden = set(re.findall(r'<input type="hidden" name="([^"]*)"', self.html))
        changes_only = "data-keep-changes" in self.html
        return {name: to for name, to in self.there.items() if not changes_only or name in hidden} | entered


def buttons(html: str) -> list[str]:
    return [re.sub(r"<[^>]*>", "", one).strip() for one in re.findall(r"<button\b.*?</button>", html, re.DOTALL)]


def kind_of(tag: str, more: str) -> str:
    if tag != "input":
        return tag
    if "input-secret" in more:
        return "password"
    return kind[1] if (kind := re.search(r' type="([^"]*)"', more)) else "text"


def first_of(shown, name: str) -> str:
    """The first that can be chosen of a list."""
    options = re.search(rf'<select\b[^>]* name="{name}".*?</select>', shown.html, re.DOTALL)[0]
    return unescape(re.findall(r'<option value="([^"]+)"', options)[0])


def each(shown, beginning: str, value: str) -> dict[str, str]:
    return {name: value for name, _ in shown.fields() if name.startswith(beginning)}


def ticked(shown, beginning: str) -> dict[str, str]:
    return dict(re.findall(rf'<input type="checkbox" name="({beginning}[^"]*)" value="([^"]*)"', shown.html))


def a_code(shown, address) -> dict:
    return {"code": address.partition("#")[2]}


def somewhere_else(shown, address) -> dict:
    places = [
        unescape(one) for one in re.findall(r'<option value="([^"]+)"', shown.page.html.partition("<datalist")[2])
    ]
    words = unescape(re.sub(r"<datalist.*?</datalist>|<[^>]*>", "", shown.page.main, flags=re.DOTALL))
    return {"to": [place for place in places if place not in words][-1]}


def held(shown, address) -> dict:
    return {"locked": f"split pin {address.partition('#')[2]}"}


def measured(shown, address) -> dict:
    withs = {name: first_of(shown, name) for name in each(shown, "with-", "")}
    drawing = re.search(r"Drawing\s*([\d.]+) in", re.sub(r"<[^>]*>", "", shown.html))[1]
    return withs | each(shown, "size-", drawing) | {"result": "sound", "do": "sign"}


def a_crack_check(shown, address) -> dict:
    said = {"method": "magnetic particle", "viewing": "colour contrast", "light_lux": "800", "demagnetised": "yes"}
    how = dict.fromkeys(("procedure", "technique", "equipment", "consumables"), "WP 1 (invented)")
    return said | how | ticked(shown, "reached") | {"two_directions": "on", "result": "sound"}


def checker() -> Person:
    """Whose password the demo keeps in a way that the tests' settings do not know."""
    ines = Person.objects.get(username="ines")
    ines.set_password(PASSWORD)
    ines.save()
    return ines


A_TEST = {"reached": "225 lb/in²", "most": "230 lb/in²", "found": "Nothing moved (invented)."}
COUNTED = {"tools_in": 9, "tools_out": 9, "rags_in": 4, "rags_out": 4, "seen": "Oiled (invented)."}
ENTERED = {
    "clean": {"method_other": "scraped by hand"},
    "move": somewhere_else,
    "note": {"marks": "K 12 stamped", "notes": "Two studs are new."},
    "photo": lambda *_: {"photos": a_photo()},
    "strip": lambda shown, address: {"name": address.partition("#")[2], "photo": a_photo()},
    "put away": a_code,
    "count": a_code,
    "kit": a_code,
    "day sheet": {"do": "done"},
    "stop": {"why": "The sling is frayed (invented)."},
    "refit": held,
    "lock": held,
    "survey": lambda shown, address: dict(list(each(shown, "p", "12.4").items())[:6]),
    "stay map": lambda shown, address: dict.fromkeys(list(each(shown, "s", ""))[:6], first_of(shown, "s1.1")),
    "look": lambda shown, address: {"look": "visual", "result": "sound"} | ticked(shown, "reached"),
    "crack check": a_crack_check,
    "measure": measured,
    "decide": {"outcome": "repair", "reason": "Worn (invented).", "method": "weld", "what": "built up"},
    "decide what was found": lambda shown, address: {"decision": "repair", "reason": "Ground out (invented)."},
    "lift": {"reason": "The sling was renewed (invented)."},
    "carry": somewhere_else,
    "hydraulic test": A_TEST,
    "steam test": A_TEST,
    "box up": lambda *_: COUNTED | {"checker": checker().pk, "checker_password": PASSWORD},
}
"""What a person enters; where it depends on what the form shows, or is a file, it is made of that."""


@pytest.fixture(params=FORMS, ids=[form.name for form in FORMS])
def form(request):
    return request.param


def test_it_is_kept_each_field_is_put_back_and_sent_twice_it_is_done_once(demo, form):
    hands, here = hands_of(form.who), Here()
    address = form.begin(Scene(here), hands)
    before = form.done(here, address)
    shown = Shown(form, hands.get(address.partition("#")[0]), address)
    is_kept_as_it_should_be(form, shown)
    entered = ENTERED[form.name]
    entered = shown.with_these(entered(shown, address) if callable(entered) else entered)
    for _ in range(2):
        page = sent(form, hands, shown.action, entered)
        if form.then:
            hands.send(page.address, **{"cotter-key": SIGNED})
        assert form.done(here, address) == before + 1


def sent(form, hands, address: str, entered: dict):
    """What is signed by the page itself, all else by the script that keeps it."""
    for value in entered.values():
        if hasattr(value, "seek"):
            value.seek(0)
    if form.signs:
        return hands.post(address, **entered, **{"cotter-key": KEY})
    number = Person.objects.get(username=form.who).pk
    return hands.post(address, {"X-Cotter-Key": KEY, "X-Cotter-Person": str(number)}, **entered)


def is_kept_as_it_should_be(form, shown):
    marked = [mark for mark in ("data-keep=", "data-sign") if mark in shown.head]
    assert marked == ["data-sign" if form.signs else "data-keep="]
    assert not {"data-no-draft", "data-again"} & set(shown.head.split())
    kinds = {kind for _, kind in shown.fields()}
    assert kinds <= PUT_BACK | ({"password"} if form.proves else set())
