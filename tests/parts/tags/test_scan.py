"""A photo of a tag opens what it hangs on. The tags are drawn as they are printed, and read by zxing-cpp."""

from pathlib import Path

import pytest
from django.core.files.storage import storages
from django.core.files.uploadedfile import SimpleUploadedFile

from parts.actions.tags import issue, unused
from parts.domain.tagcodes import grouped, new_code
from parts.models import Photo
from tests.as_shown import text_of
from tests.parts.photos.test_pictures import png_header
from tests.pictures import a_broken_photo, a_photo
from tests.tables import for_each
from tests.tags_seen import a_pattern, a_tag, photographed, sent

SPOILT = {
    "near": {},
    "upside down": {"turned": 180},
    "askew": {"turned": 33},
    "in the dark": {"turned": 10, "light": 0.1},
}


@pytest.fixture
def shown(client, works):
    client.force_login(works.people.volunteer)
    return lambda file: client.post("/scan/", {"picture": file} if file else {})


@pytest.fixture
def code(works):
    return works.piece().tags.get().code


@for_each("how", sorted(SPOILT))
def test_a_photo_of_a_tag_opens_its_page(shown, code, how):
    assert shown(sent(photographed(a_tag(code), **SPOILT[how]))).url == f"/t/{code}"


def test_a_small_far_tag_is_read(shown, code):
    assert shown(sent(photographed(a_tag(code, module=2), size=(2400, 1800)))).url == f"/t/{code}"


def test_nothing_of_the_photo_is_kept(shown, code):
    before = on_the_disk()
    shown(sent(photographed(a_tag(code))))
    assert not Photo.objects.exists()
    assert on_the_disk() == before


def on_the_disk() -> list[Path]:
    return sorted(path for key in ("originals", "pictures") for path in Path(storages[key].location).glob("*"))


def test_several_tags_in_one_photo_are_offered_one_by_one(shown, works, code):
    crate, loose = issue(works.crate, works.people.storekeeper).code, unused(1)[0].code
    response = shown(sent(photographed(a_tag(code), a_tag(crate), a_tag(loose))))
    text = text_of(response)
    assert response.status_code == 200
    assert "Which of the 3 tags?" in text
    for each in (code, crate, loose):
        assert f'href="/t/{each}"' in text


def test_a_photo_without_a_tag_says_what_to_do_and_lets_it_be_typed(shown):
    response = shown(a_photo(size=(1600, 1200)))
    text = text_of(response)
    assert response.status_code == 422
    assert "No tag could be read" in text
    assert "Go closer" in text
    assert 'action="/tag/"' in text


def test_a_tag_of_another_register_is_said_to_be_none_of_ours(shown, db):
    strange = new_code()
    response = shown(sent(photographed(a_tag(strange, base="http://elsewhere.example"))))
    assert response.status_code == 404
    assert f"{grouped(strange)}, and no such tag was ever printed here" in text_of(response)


def test_another_pattern_is_said_to_be_no_tag(shown, code):
    response = shown(sent(photographed(a_pattern("https://oil.example/grade-460"))))
    assert response.status_code == 404
    assert "is no tag: it says “https://oil.example/grade-460”" in text_of(response)
    both = shown(sent(photographed(a_tag(code), a_pattern("https://oil.example/grade-460"))))
    assert both.status_code == 200  # ours is offered, and not opened unasked
    assert f'href="/t/{code}"' in text_of(both)


def a_bomb() -> SimpleUploadedFile:
    """A few hundred bytes that claim to unfold to 225 million pixels."""
    return SimpleUploadedFile("tag.png", png_header(15_000, 15_000), "image/png")


REFUSED = {
    "a bomb": (a_bomb, "million pixels"),
    "a cut photo": (a_broken_photo, "cut short"),
    "a drawing with a script": (
        lambda: SimpleUploadedFile(
            "tag.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"
        ),
        "not a picture we can read",
    ),
    "a text": (lambda: SimpleUploadedFile("tag.jpg", b"7K3M 9QZ2", "image/jpeg"), "not a picture we can read"),
    "nothing": (lambda: None, "No photo came"),
}


@for_each("what", sorted(REFUSED))
def test_what_is_no_photo_is_refused_in_words(shown, what):
    file, why = REFUSED[what]
    response = shown(file())
    assert response.status_code == 422
    assert why in text_of(response)


def test_a_stranger_is_asked_to_sign_in_and_another_method_is_refused(client, works):
    assert client.get("/scan/").status_code == 302
    client.force_login(works.people.trustee)
    assert client.get("/scan/").status_code == 200
    assert client.delete("/scan/").status_code == 405
