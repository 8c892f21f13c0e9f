"""The jobs of a working party: dealt by rank, safe whoever comes. The rules are common practice, no source."""

from hypothesis import given
from hypothesis import strategies as st

from core.roles import Role
from parts.domain.day_sheet import NEVER_ALONE, Hand, Task, breaches, deal, in_charge, jobs_for
from parts.domain.ranking import WORK
from parts.domain.words import Need

CHECK = "crack check: penetrant"


def hand(id, *roles, **more):
    return Hand(id=id, name=f"Hand {id}", roles=frozenset(roles or (Role.VOLUNTEER,)), **more)


def task(key, need=Need.CLEAN, **more):
    return Task(key=key, words=key, need=need, **more)


def against(tasks, hands, dealt, charge=None):
    by_key = {each.key: each for each in tasks}
    by_id = {each.id: each for each in hands}
    charge = charge or in_charge(hands)
    return list(breaches([(by_key[key], on) for key, on in dealt.items()], by_id, charge and charge.id))


def test_a_day_worked_by_hand():
    """Five hands: the lift first, by the fitter with the learner; the check by who may sign it; eight jobs in all."""
    fitter, examiner = hand(1, Role.FITTER), hand(2, Role.EXAMINER, authorised=frozenset({CHECK}))
    learner, volunteer, other = hand(3, learner=True), hand(4), hand(5)
    tasks = [
        task("lift the box", "refit", danger="lifting", where=(2,)),
        task("check the pins", Need.CRACK_CHECK, look=CHECK, where=(1,)),
        *(task(f"clean crate {n}", where=(3, n)) for n in range(9)),
        task("sign", Need.SIGN),
    ]
    dealt = deal(tasks, [fitter, examiner, learner, volunteer, other])
    assert dealt["lift the box"] == (1, 3)
    assert dealt["check the pins"] == (2,)
    assert list(dealt)[:4] == ["check the pins", "lift the box", "clean crate 0", "clean crate 1"]
    assert list(dealt.values())[4:] == [()] * 4
    assert "sign" not in dealt
    assert against(tasks, [fitter, examiner, learner, volunteer, other], dealt) == []


def test_whoever_refits_does_not_clean_while_something_can_go_on():
    """Cleaning ranks first, and yet the fitters refit and the volunteer cleans; the reserve has something for each."""
    fitters, volunteer = [hand(1, Role.FITTER), hand(2, Role.FITTER)], hand(3)
    crates, on = [task(f"clean {n}") for n in range(4)], [task(f"refit {n}", "refit") for n in range(3)]
    dealt = deal([*crates, *on], [*fitters, volunteer])
    assert dealt == {"refit 0": (1,), "refit 1": (2,), "clean 0": (3,), "refit 2": (), "clean 1": ()}


def test_a_look_takes_an_authorisation_for_its_method():
    check = task("check", Need.CRACK_CHECK, look="crack check: ultrasonic")
    assert deal([check], [hand(1, Role.EXAMINER, authorised=frozenset({CHECK}))]) == {}
    may = hand(2, Role.EXAMINER, authorised=frozenset({"crack check: ultrasonic"}))
    assert deal([check], [may]) == {"check": (2,)}


def test_what_was_chosen_stays_on_the_sheet_though_nobody_who_comes_can_do_it():
    check, crate = task("check", Need.CRACK_CHECK, look="crack check: ultrasonic", chosen=True), task("clean")
    hands = [hand(1, Role.FITTER)]
    dealt = deal([check, crate], hands)
    assert dealt == {"clean": (1,), "check": ()}
    assert against([check, crate], hands, dealt) == [
        "Ask somebody who can do “check” to come: nobody who is in does it."
    ]


def test_alone_nobody_lifts_and_something_else_is_found():
    dealt = deal([task("lift", "refit", danger="lifting"), task("oil", "refit")], [hand(1, Role.FITTER)])
    assert dealt == {"oil": (1,), "lift": ()}


def test_learners_alone_get_nothing_and_are_told_of():
    hands = [hand(1, learner=True), hand(2, learner=True)]
    tasks = [task("clean")]
    assert deal(tasks, hands) == {}
    assert in_charge(hands) is None
    assert against(tasks, hands, {}) == ["Name a person in charge: nobody who is in and may be is named."]


def test_a_learner_helps_nobody_who_does_not_answer_for_them():
    volunteer, learner = hand(1), hand(2, learner=True)
    crate, lift = task("clean crate", many=12), task("strip", Need.STRIP, danger="lifting")
    assert deal([crate], [volunteer, learner]) == {"clean crate": (1,)}
    assert deal([lift, crate], [volunteer, learner]) == {"clean crate": (1,), "strip": ()}


def test_each_breach_says_what_to_do():
    fitter, learner = hand(1, Role.FITTER), hand(2, learner=True)
    lift, check = task("lift", "refit", danger="lifting"), task("check", Need.CRACK_CHECK, look=CHECK)
    sentences = against([lift, check], [fitter, learner], {"lift": (1,), "check": (2,)})
    assert sentences == [
        "Put a second person on “lift”: nobody lifts alone.",
        f"Put somebody else on “check”: nobody on it is authorised for it ({CHECK}).",
        "Put somebody beside Hand 2 on “check”: Hand 2 is learning.",
    ]


def test_whoever_has_the_skill_is_in_charge_before_the_engineer():
    engineer, skilled = hand(1, Role.RESPONSIBLE_ENGINEER), hand(2, skills=frozenset({"in charge"}))
    assert in_charge([engineer, skilled]) == skilled
    assert in_charge([engineer, hand(3, Role.FITTER)]) == engineer
    assert in_charge([hand(4, Role.EXAMINER), hand(5)]) is None


ROLES = st.frozensets(st.sampled_from(list(Role)), min_size=1, max_size=3)
HANDS = st.lists(
    st.builds(
        lambda roles, learner, signs: (roles, learner, signs),
        ROLES, st.booleans(), st.booleans(),
    ),
    max_size=9,
).map(lambda rows: [hand(n, *roles, learner=learner, authorised=frozenset({CHECK} if signs else ()))
                    for n, (roles, learner, signs) in enumerate(rows, 1)])  # fmt: skip
TASKS = st.lists(
    st.tuples(st.sampled_from(sorted(WORK)), st.sampled_from(["", *NEVER_ALONE]), st.integers(1, 9), st.booleans()),
    max_size=20,
).map(lambda rows: [task(str(n), need, danger=danger, many=many, look=CHECK if look else "", where=(n % 4,))
                    for n, (need, danger, many, look) in enumerate(rows)])  # fmt: skip


@given(HANDS, TASKS)
def test_whatever_is_dealt_is_safe(hands, tasks):
    dealt = deal(tasks, hands)
    on = [id for ids in dealt.values() for id in ids]
    assert len(on) == len(set(on))
    assert len(dealt) <= max(jobs_for(len(hands)), sum(bool(ids) for ids in dealt.values()))
    assert len([ids for ids in dealt.values() if ids]) <= len(hands)
    assert [one for one in against(tasks, hands, dealt) if "in charge" not in one] == []
