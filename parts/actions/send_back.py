"""Send back: to an earlier state. What was signed stays on record and no longer counts."""

from core.domain.catalogue import Logged
from core.roles import BENCH

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.rows import ActionContext
from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task
from .forms import ActionForm, asked, one_of, text

S = State


class SendBackForm(ActionForm):
    to = asked(one_of("Back to"))
    reason = asked(text("Reason"))

    def fit(self) -> None:
        cleaned = self.component.state == S.CLEANED
        earlier = [S.STRIPPED] if cleaned else [S.STRIPPED, S.CLEANED]
        words = {S.STRIPPED: "Stripped: to be cleaned again", S.CLEANED: "Cleaned: to be looked at again"}
        self.offer("to", [(state.value, words[state]) for state in earlier])
        self.fields["to"].initial = earlier[0].value if cleaned else None


def chosen_state(context: ActionContext) -> State:
    return S(context.input.to)


def effect(task: Task) -> Change:
    return Change(fields={"look_again": None, "protection": ""})


def tell(event: Logged) -> str:
    return f"Sent back, to {event.after}." if event.after else "Sent back."


SEND_BACK = PieceAction(
    word="send back",
    rank=130,
    roles=BENCH,
    starts=frozenset({S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED}),
    ends_at=chosen_state,
    arrows=(
        (S.CLEANED, S.STRIPPED),
        *((state, end) for state in (S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED) for end in (S.STRIPPED, S.CLEANED)),
    ),
    says="Back to an earlier state; what was signed no longer counts.",
    label="Send it back",
    done="Sent back",
    past="Sent back",
    tell=tell,
    preconditions=(when.not_on_trial,),
    input_checks=(asks.reason_required, asks.goes_to_an_earlier_state),
    form=SendBackForm,
    effect=effect,
    voids_exams=True,
    is_rework=True,
    undoable=True,
)
