"""Lists as works keep them come in without being edited outside: their columns and words are matched on screen and
remembered, near names questioned, good rows taken over while the others are handed back, pieces without places too."""

import csv
import html
import io
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import CommandError, call_command
from django.urls import reverse

from parts.domain.import_matching import near_key
from parts.models import Component, ListWord, Location, Position
from parts.structure.writers.structure import add_position, add_subassembly

pytestmark = [pytest.mark.django_db]

OWN_WORDS = """Group;Part;Hand;Qty;Status;Where kept;Comments
Axle boxes;box;L;1;washed;Bay 1 / Crate 7;Café green
Axle boxes;box;R;1;washed;Bay 1 / Crate 7;
Axle-boxes;keep;;2;;;
""".encode("cp1252")
HALF_BAD = b"subassembly,position,state,location\nFrames,hornstay,stripped,Crate 1\nFrames,stretcher,melted,Crate 1\n"
LOOSE = "Description\tLocation\tQuantity\n" + "brass cock, no idea\tCrate 3\t1\n" * 2 + "long bolt\tCrate 3\t14\n"


@pytest.fixture
def ada(client, works):
    client.force_login(works.people.manager)
    return client


@pytest.fixture
def at(works):
    return reverse("import_register", args=[works.locomotive.slug])


def look(client, at, content, name="our list.csv"):
    return client.post(at, {"file": SimpleUploadedFile(name, content)})


def packed(answer) -> str:
    return html.unescape(re.search(r'name="packed" value="([^"]+)"', answer.content.decode())[1])


def questions(answer) -> dict[str, str]:
    return {question.written: question.guess for _, question in answer.context["questions"]}


def answers(answer, **otherwise) -> dict[str, str]:
    """What the page would send, each as guessed but where it is said otherwise."""
    found = {"packed": packed(answer), "do": "match"}
    for number, question in answer.context["questions"]:
        found |= {
            f"written-{number}": question.written,
            f"meant-{number}": otherwise.get(question.written, question.guess),
        }
    return found


def test_a_list_in_words_of_its_own_comes_in_and_the_next_one_is_not_asked_again(ada, works, at):
    add_subassembly(works.locomotive, "Axleboxes", works.people.manager)
    first = look(ada, at, OWN_WORDS)
    assert questions(first) == {
        "Group": "subassembly", "Part": "position", "Hand": "side", "Qty": "quantity", "Status": "state",
        "Where kept": "location", "Comments": "notes",
    }  # fmt: skip
    second = ada.post(at, answers(first))
    assert questions(second) == {"washed": "cleaned", "Axle boxes": "Axleboxes", "Axle-boxes": "Axleboxes"}
    assert not Position.objects.exists()
    third = ada.post(at, answers(second))
    text = third.content.decode()
    assert "Axleboxes: box, LH" in text  # what would be made is named
    assert "box, RH: cleaned, in Bay 1 / Crate 7" in text
    assert ada.post(at, {"packed": packed(third)}).status_code == 302
    boxes = Position.objects.filter(name="box")
    assert {place.subassembly.name for place in boxes} == {"Axleboxes"}
    assert Component.objects.filter(state="cleaned", location__path="Bay 1 / Crate 7").count() == 2
    assert Component.objects.get(notes="Café green")
    again = look(ada, at, OWN_WORDS)
    assert "questions" not in again.context
    assert "Nothing to add" in again.content.decode()


def test_a_near_name_may_be_another_one_and_a_column_may_be_left_alone(ada, works, at):
    add_position(works.frames, works.people.manager, name="horn stays")
    first = look(ada, at, b"subassembly,position,Remark\nFrames,horn-stay,x\n")
    assert questions(first) == {"Remark": "notes"}
    second = ada.post(at, answers(first, Remark=""))
    assert questions(second) == {"horn-stay": "horn stays"}
    third = ada.post(at, answers(second, **{"horn-stay": "horn-stay"}))
    assert "Remark" in third.content.decode()  # told as left alone
    ada.post(at, {"packed": packed(third)})
    assert set(Position.objects.values_list("name", flat=True)) == {"horn stays", "horn-stay"}


def test_a_list_whose_needed_columns_nobody_named_asks_again_and_forgets_nothing(ada, works, at):
    first = look(ada, at, b"Alpha,Beta\nFrames,rod\n")
    again = ada.post(at, answers(first))
    assert again.status_code == 422
    assert set(questions(again)) == {"Alpha", "Beta"}
    assert not ListWord.objects.exists()


def test_good_rows_go_in_and_the_others_come_back_as_a_file_with_the_reason(ada, works, at):
    asked = look(ada, at, HALF_BAD)
    assert questions(asked) == {"melted": ""}
    looked = ada.post(at, answers(asked))  # it is no word of ours
    assert "Take over the 1 good rows" in looked.content.decode()
    at_once = ada.post(at, {"packed": packed(looked), "do": "hand back"})
    heads, row = csv.reader(io.StringIO(at_once.content.decode("utf-8-sig")))
    assert heads[-1] == "what to mend"
    assert row[:3] == ["Frames", "stretcher", "melted"]
    assert "is not a state" in row[-1]
    assert at_once["Content-Disposition"] == 'attachment; filename="our list-to-mend.csv"'
    assert not Position.objects.exists()
    ada.post(at, {"packed": packed(looked), "do": "good rows"})
    assert list(Position.objects.values_list("name", flat=True)) == ["hornstay"]


@pytest.mark.parametrize("content", [LOOSE.encode("utf-16"), LOOSE.encode()])
def test_pieces_in_crates_without_places_come_in_once(ada, works, at, content):
    page = look(ada, at, content)
    assert "brass cock, no idea: stripped, in Crate 3" in page.content.decode()
    ada.post(at, {"packed": packed(page)})
    found = Component.objects.filter(place=None).order_by("id")
    assert [(piece.name, piece.quantity, piece.state) for piece in found] == [
        ("brass cock, no idea", 1, "stripped"), ("brass cock, no idea", 1, "stripped"), ("long bolt", 14, "stripped"),
    ]  # fmt: skip
    assert {piece.location for piece in found} == {Location.objects.get(name="Crate 3")}
    assert "Nothing to add" in look(ada, at, content).content.decode()


def test_the_command_line_has_the_same(works, tmp_path, capsys):
    file, back = tmp_path / "list.csv", tmp_path / "mend.csv"
    file.write_bytes(OWN_WORDS + b"Axle boxes;spring;;1;lost;;\n")
    slug = works.locomotive.slug
    means = ["Group=subassembly", "Part=position", "Hand=side", "Qty=quantity", "Status=state", "Where kept=location",
             "Comments=notes"]  # fmt: skip
    columns = [f"--mean=column:{each}" for each in means]
    with pytest.raises(CommandError, match="is not a state"):
        call_command("import_register", file, *columns, locomotive=slug)
    assert "--mean 'state:washed=cleaned'" in capsys.readouterr().err
    assert not Position.objects.exists()
    words = ["--mean=state:washed=cleaned", "--mean=subassembly:Axle-boxes=Axle boxes"]
    call_command("import_register", file, *words, "--good-rows", f"--hand-back={back}", "--dry-run", locomotive=slug)
    assert "Axle boxes: box, LH" in capsys.readouterr().out
    assert ListWord.objects.filter(column="state").count() == 0
    call_command("import_register", file, *words, "--good-rows", f"--hand-back={back}", locomotive=slug)
    assert "Left out, since something is wrong with them: 1 row." in capsys.readouterr().out
    assert set(Position.objects.values_list("name", flat=True)) == {"box", "keep"}
    assert "lost" in back.read_text("utf-8-sig")


def test_names_are_alike_whatever_the_blanks_and_the_number():
    assert near_key("Axle boxes") == near_key("axle-box") == near_key("AXLEBOXES")
    assert near_key("brass") != near_key("bras")
    assert near_key("Crate 1") != near_key("Crate 11")


SECTIONS = """Fern parts list,,,
kept by the fitters,,,
,,,
Item,Qty,Status,Where
FRAMES:,,,
Horn guide LH,1 off,Stripped 3 May,Crate 1
Stretcher,2 No.,,
BOILER,,,
Dome,1,cleaned,Yard
"""


def test_a_list_with_a_title_above_and_headings_between_comes_in_as_it_is(ada, works, at):
    first = look(ada, at, SECTIONS.encode("utf-8-sig"))
    assert questions(first) == {"Item": "position", "Qty": "quantity", "Status": "state", "Where": "location"}
    second = ada.post(at, answers(first))
    assert questions(second) == {"Stripped 3 May": "stripped"}
    third = ada.post(at, answers(second))
    ada.post(at, {"packed": packed(third)})
    places = {(place.subassembly.name, place.name, place.quantity) for place in Position.objects.all()}
    assert places == {("Frames", "Horn guide LH", 1), ("Frames", "Stretcher", 2), ("BOILER", "Dome", 1)}
    assert set(Component.objects.values_list("state", "location__name")) == {
        ("stripped", "Crate 1"), ("cleaned", "Yard"),
    }  # fmt: skip
