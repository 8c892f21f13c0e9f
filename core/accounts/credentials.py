"""What proves that somebody is who they say: their password, their PIN, or the code on their card."""

from collections.abc import Callable

from django.conf import settings
from django.contrib.auth.hashers import check_password, make_password
from django.utils.crypto import salted_hmac

from ..domain import codes, pins
from ..domain.refusals import Refusal, Refused
from ..log import writing
from ..models import Card, Person
from . import throttle


def proves(person: Person, typed: str, place: str) -> bool:
    """Is this the PIN, the card's code or the password of this person? Raises `TooSoon` after many wrong tries."""
    if is_card_of(person, typed):
        return True
    return _tried(person, place, lambda: (is_pin_of if pins.is_pin(typed) else is_password_of)(person, typed))


def proves_by_password(person: Person, typed: str, place: str) -> bool:
    """Is this the password? A PIN or a card is not enough. Raises `TooSoon` after many wrong tries."""
    return _tried(person, place, lambda: is_password_of(person, typed))


def _tried(person: Person, place: str, is_right: Callable[[], bool]) -> bool:
    asks = throttle.by_pin(person.pk, place)
    throttle.begin(asks)
    good = is_right()
    if good:
        throttle.right(asks)
    else:
        throttle.note_wrong(person.pk, place)
    return good


def is_pin_of(person: Person, typed: str) -> bool:
    return bool(person.pin) and check_password(_with_the_key(typed), person.pin)


def is_password_of(person: Person, typed: str) -> bool:
    """Leaves the stored hash as it is: to upgrade it here would sign the person out on other devices in mid-work."""
    return check_password(typed, person.password)


def is_card_of(person: Person, typed: str) -> bool:
    code = codes.read(typed)
    card = Card.objects.of_code(codes.hashed(code)) if code else None
    return card is not None and card.person_id == person.pk


def hash_of_pin(pin: str) -> str:
    return make_password(_with_the_key(pin))


def _with_the_key(pin: str) -> str:
    """Ten thousand PINs are soon tried out on a stolen hash; not so where the server's key, which no backup holds, goes
    into it."""
    return salted_hmac("workshop.pin", pin, secret=settings.SECRET_KEY, algorithm="sha256").hexdigest()


# --- writers ------------------------------------------------------------------------------------------------------


def refuse_weak(pin: str) -> None:
    if why := pins.why_not(pin):
        raise Refused(Refusal("pin", why))


def set_pin(person: Person, pin: str) -> None:
    refuse_weak(pin)
    with writing.one_transaction():
        person.pin = hash_of_pin(pin)
        person.save(update_fields=["pin"])
        writing.log(person, "set PIN", data={"person": person.pk})


def remove_pin(person: Person, actor: Person) -> None:
    with writing.one_transaction():
        person.pin = ""
        person.save(update_fields=["pin"])
        writing.log(actor, "remove PIN", remark=str(person), data={"person": person.pk})


def issue_card(person: Person, actor: Person) -> str:
    """A new card's code, to be printed and then forgotten; the card before it is good for nothing from now on."""
    writing.allow(actor, "edit people")
    if not person.is_active:
        raise Refused(Refusal("left", f"{person} no longer signs in.", "Let them sign in again first."))
    code = codes.new_code()
    with writing.one_transaction():
        Card.objects.filter(person=person).delete()
        Card.objects.create(person=person, code_hash=codes.hashed(code), issued_by=actor)
        writing.log(actor, "issue card", remark=str(person), data={"person": person.pk})
    return code


def withdraw_card(person: Person, actor: Person) -> bool:
    """By the office, or by the bearer who has lost it."""
    if person.pk != actor.pk:
        writing.allow(actor, "edit people")
    with writing.one_transaction():
        gone, _ = Card.objects.filter(person=person).delete()
        if gone:
            writing.log(actor, "withdraw card", remark=str(person), data={"person": person.pk})
    return bool(gone)
