"""What a scanned or typed code opens."""

import pytest
from django.utils import timezone

from parts.actions.tags import issue, unused
from parts.domain.near_codes import near_codes
from parts.domain.tagcodes import check, is_code, with_check
from parts.entering.views.strip import SINCE, SUBASSEMBLY
from parts.models import Tag
from parts.tags.writers import tie
from tests.as_shown import text_of
from tests.factories import fresh
from tests.tables import for_each


@pytest.fixture
def signed_in(client, works):
    client.force_login(works.people.volunteer)
    return client


def test_the_printed_address_in_capitals_leads_to_the_piece(signed_in, works):
    code = works.piece().tags.get().code
    for scanned in (f"/T/{code}", f"/t/{code.lower()}", f"/T/{code[:4]}-{code[4:]}"):
        response = signed_in.get(scanned)
        assert (response.status_code, response.url) == (301, f"/t/{code}")


def test_a_replaced_tag_leads_on_to_the_thing(signed_in, works):
    piece = works.piece()
    old, new = piece.tags.get().code, unused(1)[0].code
    tie(new, piece, works.people.volunteer)
    response = signed_in.get(f"/t/{old}", follow=True)
    assert response.redirect_chain == [(f"/t/{new}", 302)]
    assert "was replaced by" in text_of(response)


def test_the_tag_of_a_crate_leads_to_the_crate(signed_in, works):
    code = issue(works.crate, works.people.storekeeper).code
    assert signed_in.get(f"/t/{code}").url == works.crate.get_absolute_url()


def test_an_unused_tag_offers_to_be_tied(signed_in, works):
    code = unused(1)[0].code
    text = text_of(signed_in.get(f"/t/{code}"))
    assert f'href="/strip/?code={code}"' in text
    assert f'href="/t/{code}/tie"' in text


def test_an_unused_tag_offers_a_reader_nothing(client, works):
    client.force_login(works.people.trustee)
    assert "/tie" not in text_of(client.get(f"/t/{unused(1)[0].code}"))


def test_a_misread_code_offers_what_it_may_have_been(signed_in, works):
    piece = works.piece()
    code = piece.tags.get().code
    wrong = code[:2] + ("7" if code[2] != "7" else "8") + code[3:]
    response = signed_in.get("/tag/", {"code": wrong})
    assert response.status_code == 404
    assert "one character is misread or two are swapped" in text_of(response)
    assert code in [tag.code for tag in response.context["meant"]]


def test_a_code_never_printed_is_not_there(signed_in):
    response = signed_in.get(f"/t/{with_check('ABCDEFG')}")
    assert response.status_code == 404
    assert "was ever printed here." in text_of(response)


def test_a_typed_code_opens_the_piece(signed_in, works):
    code = works.piece().tags.get().code
    assert signed_in.get("/tag/", {"code": f" {code[:4]} {code[4:]}".lower()}).url == f"/t/{code}"


@for_each("junk", ["<b>", "🚂" * 30, "../../etc", "a" * 5000, "\0"])
def test_junk_is_answered_kindly(signed_in, junk):
    assert signed_in.get("/tag/", {"code": junk}).status_code == 404


def test_a_stranger_signs_in_first(client, db):
    assert client.get("/tag/").status_code == client.get("/t/AAAAAAAA").status_code == 302


def test_only_reading_is_answered(signed_in):
    assert signed_in.post("/tag/").status_code == signed_in.post("/t/AAAAAAAA").status_code == 405


def test_near_codes_holds_every_single_slip_and_swap():
    """Against the definition: a code is near if one wrong character, or one swap, makes it the code that was typed."""
    right = check(with_check("7K3M9QZ"))
    for i, character in enumerate(right):
        slipped = right[:i] + ("0" if character != "0" else "1") + right[i + 1 :]
        assert right in near_codes(slipped)
    for i in range(7):
        swapped = right[:i] + right[i + 1] + right[i] + right[i + 2 :]
        assert swapped == right or right in near_codes(swapped)
    assert all(is_code(code) for code in near_codes(right[:-1] + "0"))
    assert near_codes("short") == []


# --- tying


def test_another_tag_is_tied_to_a_piece(signed_in, works):
    piece, new = works.piece(), unused(1)[0].code
    old = piece.tags.get().code
    response = signed_in.post(f"/t/{old}/tie", {"code": new.lower()})
    assert response.url == f"/t/{new}"
    assert Tag.objects.get(code=new).component == piece


def test_an_unused_tag_is_tied_to_a_crate_by_its_name(signed_in, works):
    code = unused(1)[0].code
    assert signed_in.post(f"/t/{code}/tie", {"thing": works.crate.name.upper()}).url == works.crate.get_absolute_url()


def test_a_used_tag_is_not_tied_twice(signed_in, works):
    one, other = works.piece(), works.piece()
    response = signed_in.post(f"/t/{one.tags.get().code}/tie", {"code": other.tags.get().code})
    assert response.status_code == 422
    assert "Take an unused tag." in text_of(response)
    assert fresh(one).tags.count() == 1


def test_a_reader_ties_nothing(client, works):
    client.force_login(works.people.trustee)
    assert client.post(f"/t/{works.piece().tags.get().code}/tie", {"code": ""}).status_code == 403


@pytest.mark.parametrize(("who", "leads_on"), [("volunteer", True), ("trustee", False)])
def test_who_is_stripping_goes_on_with_the_next_tag_if_their_role_strips(client, works, who, leads_on):
    client.force_login(getattr(works.people, who))
    session = client.session
    session[SUBASSEMBLY], session[SINCE] = works.frames.pk, timezone.now().isoformat()
    session.save()
    code = unused(1)[0].code
    answer = client.get(f"/t/{code}")
    assert (answer.status_code == 302 and f"code={code}" in answer.url) is leads_on
