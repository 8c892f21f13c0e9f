"""Finish repair: work on the old piece is done, and it is examined again."""

from core.domain.catalogue import Logged
from core.roles import BENCH

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.cautions import usual
from ..domain.states import PieceAction, required
from ..domain.words import State
from .change import EVENT, Change, Task
from .forms import ActionForm, asked, line, text


class FinishRepairForm(ActionForm):
    work = asked(text("Work done", "What was built up, bushed, straightened, machined, and how far."))
    who = asked(line("By whom", "The person or firm that did the work.", most=120))
    procedure = line("Weld procedure", "Only if it was welded.", most=120)
    welder = line("Welder", "Only if it was welded.", most=120)


def effect(task: Task) -> Change:
    fields = {"look_again": None, "protection": ""}
    if task.given.procedure or task.given.welder:
        fields["welded_event"] = EVENT
    return Change(fields=fields)


def tell(event: Logged) -> str:
    who = event.data.get("who")
    bond = f" Bond check: {event.data['bond'].rstrip('. ')}." if event.data.get("bond") else ""
    return f"Repair finished. Work by {who}.{bond}" if who else f"Repair finished.{bond}"


FINISH_REPAIR = PieceAction(
    word="finish repair",
    rank=80,
    roles=BENCH,
    starts=frozenset({State.STRIPPED, State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED}),
    ends=State.STRIPPED,
    says="Work on the old piece is done; it is examined again.",
    label="Finish a repair",
    done="Repair finished",
    past="Repair finished",
    data={"work": str, "who": str, "procedure": str, "welder": str, "bond": str},
    tell=tell,
    preconditions=(when.not_on_trial,),
    input_checks=(
        required("work", "Work: nothing was written.", "Say what was done to it."),
        required("who", "By whom: nobody named.", "Name the person or firm that did the work."),
        asks.weld_papers_required,
        asks.bond_required,
        asks.excavation_checked,
    ),
    form=FinishRepairForm,
    effect=effect,
    cautioned=usual("finish repair"),
    voids_exams=True,
    is_work=True,
    is_rework=True,
)
