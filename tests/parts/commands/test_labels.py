"""`manage.py labels`."""

import pytest
from django.core.management import CommandError, call_command

from core.models import Event
from parts.models import Tag
from tests.factories import add_location
from tests.printed import pages, read_back
from tests.tables import for_each

ADDRESS = "http://cotter.local:8000"


@pytest.fixture(autouse=True)
def address(settings):
    settings.ADDRESS = ADDRESS


@pytest.fixture
def out(tmp_path):
    return tmp_path / "labels.pdf"


def make(out, *words, **options):
    call_command("labels", *words, "--out", str(out), **options)


def printed_on(out, folder):
    return [address for page in pages(out.read_bytes(), folder) for address in read_back(page)]


@pytest.mark.needs_poppler
def test_tags_are_printed_with_the_address_in_capitals(works, out, tmp_path, capsys):
    code = works.piece().tags.get().code
    make(out, "--tags", code[:4], code[4:], "--sheet", "roll-62x29")
    assert printed_on(out, tmp_path) == [f"HTTP://COTTER.LOCAL:8000/T/{code}"]
    assert f"{out} is written" in capsys.readouterr().out


@pytest.mark.needs_poppler
def test_crates_by_name_and_what_lies_in_them(works, people, out, tmp_path):
    piece = works.piece()
    make(out, "--crates", works.crate.name, "--sheet", "a4-2x3")
    assert printed_on(out, tmp_path) == [f"HTTP://COTTER.LOCAL:8000/T/{works.crate.tags.get().code}"]
    make(out, "--contents", works.crate.name)
    assert printed_on(out, tmp_path) == [f"HTTP://COTTER.LOCAL:8000/T/{piece.tags.get().code}"]


@pytest.mark.needs_poppler
def test_unused_tags_are_issued_by_printing_them(db, out, tmp_path):
    make(out, "--unused", "3")
    tags = Tag.objects.filter(component=None, location=None)
    assert sorted(printed_on(out, tmp_path)) == sorted(f"HTTP://COTTER.LOCAL:8000/T/{tag.code}" for tag in tags)
    assert Event.objects.get(action="print labels").data["tags"] == [tag.code for tag in tags.order_by("id")]


@pytest.mark.needs_poppler
def test_another_address_may_be_given_and_is_warned_about(db, out, tmp_path, capsys):
    make(out, "--unused", "1", "--address", "http://10.0.0.5:8000/")
    assert printed_on(out, tmp_path)[0].startswith("HTTP://10.0.0.5:8000/T/")
    assert "Take care: 10.0.0.5 is a bare number" in capsys.readouterr().err


@for_each(
    ("words", "sentence"),
    [
        (["--tags", "7K3M9QZZ"], "“7K3M 9QZZ” is not a tag code"),
        (["--tags", "00000000"], "0000 0000: no such tag was ever issued here"),
        (["--crates", "Nowhere"], "--crates Nowhere: no place is called that"),
        (["--contents", "Crate"], "nothing you chose has a tag"),
        (["--unused", "0"], "0 labels are not printed at once: ask for 1 to 2000"),
        (["--unused", "3", "--sheet", "a4"], "How many columns and rows"),
        (["--unused", "3", "--address", "cotter"], "“cotter” is no address to print"),
    ],
)
def test_a_mistake_is_told_and_nothing_is_written(works, out, words, sentence):
    with pytest.raises(CommandError, match=sentence):
        make(out, *words)
    assert not out.exists()
    assert not Tag.objects.exists()


def test_a_name_that_several_crates_bear_is_asked_about(works, people, out):
    add_location(people.storekeeper, "Crate 2", "crate")
    with pytest.raises(CommandError, match=f"--crates crate: Crate 2; {works.crate}"):
        make(out, "--crates", "crate")


def test_without_an_address_it_says_which_setting(db, out, settings):
    settings.ADDRESS = ""
    with pytest.raises(CommandError, match="set COTTER_ADDRESS"):
        make(out, "--unused", "3")


@pytest.mark.parametrize("target", [".", "nowhere/labels.pdf", "x" * 300])
def test_where_the_file_cannot_be_written_no_tag_is_issued(db, tmp_path, target):
    with pytest.raises(CommandError, match="--out"):
        make(tmp_path / target, "--unused", "3")
    assert not Tag.objects.exists()
