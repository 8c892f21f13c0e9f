"""What may be decided, and by whom."""

from core.roles import Role
from parts.domain.deciding import Deciding, deciding_troubles, in_words, may_decide, outcomes
from parts.domain.job_words import Outcome
from parts.domain.rows import Actor, Dimension
from parts.domain.words import State
from tests.parts.domain.plain_rows import piece, place
from tests.tables import for_each


def decided(*roles, outcome=Outcome.REPAIR, on=None, at=None, provisional=False, reason="worn"):
    actor = Actor(id=1, name="somebody", roles=frozenset(roles))
    case = Deciding(piece=on, place=at or place(), actor=actor, outcome=outcome, provisional=provisional, reason=reason)
    return [refusal.code for refusal in deciding_troubles(case)]


ENGINEER, FITTER, MANAGER, EXAMINER = (
    Role.RESPONSIBLE_ENGINEER, Role.FITTER, Role.WORKS_MANAGER, Role.EXAMINER,
)  # fmt: skip


@for_each("outcome", sorted(Outcome))
@for_each("what", ["safety_critical", "pressure_part"])
def test_what_can_hurt_somebody_is_decided_by_the_responsible_engineer_alone(outcome, what):
    at = place(**{what: True})
    for role in sorted(set(Role) - {ENGINEER}):
        assert decided(role, outcome=outcome, on=piece(), at=at) == ["role"]
    assert "role" not in decided(ENGINEER, outcome=outcome, on=piece(), at=at)


def test_what_can_hurt_nobody_is_decided_by_whoever_may_do_it():
    assert decided(FITTER, outcome=Outcome.REPAIR, on=piece()) == []
    assert decided(MANAGER, outcome=Outcome.RENEW, on=piece()) == []
    assert decided(MANAGER, outcome=Outcome.WITHDRAW, on=piece()) == ["role"]
    assert decided(EXAMINER, outcome=Outcome.ACCEPT, on=piece()) == ["role"]


def test_whoever_may_decide_something_for_good_is_not_offered_only_a_provisional_decision():
    critical = place(safety_critical=True)
    assert [role for role in Role if may_decide([role], piece(), place())] == [FITTER, ENGINEER, MANAGER]
    assert [role for role in Role if may_decide([role], None, place())] == [ENGINEER, MANAGER]
    assert [role for role in Role if may_decide([role], piece(), critical)] == [ENGINEER]


def test_anybody_at_work_on_it_may_note_it_as_provisional():
    at = place(safety_critical=True)
    for role in (ENGINEER, FITTER, MANAGER, EXAMINER):
        assert decided(role, outcome=Outcome.ACCEPT, on=piece(), at=at, provisional=True) == []
    assert decided(Role.TRUSTEE, outcome=Outcome.ACCEPT, on=piece(), at=at, provisional=True) == ["role"]


def test_a_decision_has_a_reason():
    assert decided(FITTER, on=piece(), reason=" ") == ["reason"]


def test_an_empty_place_is_renewed_or_left():
    assert outcomes(None) == (Outcome.RENEW, Outcome.LEAVE)
    empty = place(known_empty=True)
    assert decided(ENGINEER, outcome=Outcome.LEAVE, at=empty) == []
    assert decided(ENGINEER, outcome=Outcome.ACCEPT, at=empty) == ["outcome"]
    assert decided(ENGINEER, outcome=Outcome.LEAVE, at=place()) == ["not-empty"]
    assert decided(ENGINEER, outcome="throw it in the river", on=piece()) == ["outcome"]


def test_under_concession_only_where_every_size_outside_is_conceded():
    conceded = Dimension(name="bore", event=3, outside=True, concession=True)
    bare = Dimension(name="journal", event=3, outside=True)
    within = Dimension(name="length", event=3)
    for sizes, expected in (((), ["concession"]), ((within,), ["concession"]), ((conceded, bare), ["concession"])):
        assert decided(ENGINEER, outcome=Outcome.CONCESSION, on=piece(dimensions=sizes)) == expected
    assert decided(ENGINEER, outcome=Outcome.CONCESSION, on=piece(dimensions=(conceded, within))) == []


def test_a_withdrawn_piece_is_brought_back_first():
    assert decided(ENGINEER, on=piece(state=State.WITHDRAWN)) == ["state"]


def test_a_decision_in_words():
    assert in_words("renew", provisional=False) == "Decided: renew."
    assert in_words("accept", provisional=True) == "Provisionally decided: accept."
