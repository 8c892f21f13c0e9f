"""The bulk writer of a works' own list: one transaction, all or nothing, and nothing that is there already is changed.

What a works says of a piece is taken over as one event saying so, by whoever imports it. The piece's state counts as if
its examinations had been signed; for what can hurt someone the responsible engineer still has to put a name to it.
"""

from collections.abc import Callable, Iterable

from django.db import IntegrityError

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.refresh import refresh_where
from parts.domain import import_plan, importing
from parts.domain.import_matching import COLUMN, Question, matched, questions
from parts.domain.import_rows import ImportPlan
from parts.domain.import_words import added
from parts.domain.list_tidying import read_as_kept
from parts.domain.register_cells import BadRow
from parts.domain.spreadsheets import Sheet
from parts.domain.words import LIVE, State
from parts.finding.find_index import catch_up
from parts.models import Component, ListWord, Locomotive, Position

from .import_known import known, names_by_column
from .import_pieces import Pieces
from .import_places import Places

NEEDS = "needs worked out"
"""The last step of an import, as it is told to whoever waits for it."""
MANY = 5000
"""More places than this are looked at by their locomotive: not every SQLite takes so many ids in one question."""

TellProgress = Callable[[str, int, int], None]


def look_over(locomotive: Locomotive, sheet: Sheet) -> ImportPlan:
    """What an import of this list would do. Writes nothing; raises SheetError when the columns cannot be told."""
    listed = importing.read(sheet)
    return import_plan.plan(listed, known(locomotive, listed))


def look_over_good_rows(locomotive: Locomotive, sheet: Sheet) -> tuple[ImportPlan, list[BadRow]]:
    """What an import of its good rows would do, and what is wrong with the others."""
    listed = importing.read(sheet)
    return import_plan.plan_good_rows(listed, known(locomotive, listed))


def still_to_match(locomotive: Locomotive, sheet: Sheet) -> list[Question]:
    """Columns, words and near names that nobody has matched yet."""
    return questions(sheet, ListWord.objects.as_words(), names_by_column(locomotive))


def read_list(content: bytes, sheet: str = "") -> Sheet:
    """The table of a works' list, from the bytes of its file; SheetError where it cannot be read."""
    return read_as_kept(content, ListWord.objects.as_words(), sheet)


def in_our_words(sheet: Sheet) -> Sheet:
    return matched(sheet, ListWord.objects.as_words())


def remember(answers: Iterable[tuple[Question, str]], actor, locomotive: Locomotive) -> None:
    """What was meant, for this file and the next ones. Inside or outside of a request: whoever calls asks who may."""
    with writing.one_transaction():
        matched = []
        for question, meant in answers:
            column, key = question.key
            meant = meant or (question.written if column != COLUMN else "")
            ListWord.objects.update_or_create(column=column, written=key[:300], defaults={"meant": meant[:300]})
            matched.append([column, question.written, meant])
        if matched:
            writing.log(actor, "match words", locomotive=locomotive, data={"words": matched})


def import_register(locomotive: Locomotive, sheet: Sheet, actor, *, source: str, good_rows: bool = False) -> ImportPlan:
    """Take a list over on behalf of somebody whose roles allow it. While any row is bad, nothing is written, unless
    only the good rows are to go in."""
    writing.allow(actor, "import")
    return take_over(locomotive, sheet, actor, source=source, good_rows=good_rows)


def take_over(
    locomotive: Locomotive,
    sheet: Sheet,
    actor,
    *,
    source: str,
    good_rows: bool = False,
    progress: TellProgress | None = None,
) -> ImportPlan:
    """As `import_register`, for a command: whoever can run one on this machine may import."""
    tell = progress or (lambda what, done, total: None)
    listed = importing.read(sheet)
    try:
        with writing.one_transaction():
            Locomotive.objects.select_for_update().get(pk=locomotive.pk)  # two imports come one after the other
            register = known(locomotive, listed)
            if good_rows:
                made, _ = import_plan.plan_good_rows(listed, register)
            else:
                made = import_plan.plan(listed, register)
            if not made.bad and made.adds:
                _write(locomotive, made, actor, source, tell)
                catch_up()
    except IntegrityError:
        raise Refused(
            Refusal(
                "meanwhile",
                "Somebody changed the same places while the list was being read.",
                "Nothing was written. Import it again.",
            )
        ) from None
    return made


def _write(locomotive, made: ImportPlan, actor, source, tell) -> None:
    places = Places(locomotive, made, actor, source)
    places.write(tell)
    pieces = Pieces(places)
    pieces.write(tell)
    opened = _broken_down(places, actor)
    rows = places.made_rows() | {"piece": pieces.entered}
    data = {"source": source, "added": added(made), "rows": rows, "emptied": places.emptied, "opened": opened}
    writing.log(actor, "import list", locomotive=locomotive, data=data)
    tell(NEEDS, 0, len(made.steps))
    _work_out_needs(locomotive, places.not_settled())
    tell(NEEDS, len(made.steps), len(made.steps))


def _work_out_needs(locomotive, ids: list[int]) -> None:
    if len(ids) > MANY:
        refresh_where({"locomotive": locomotive})
    elif ids:
        inner = Position.objects.filter(part_of__in=ids).values_list("pk", flat=True)
        refresh_where({"id__in": sorted({*ids, *inner})})


def _broken_down(places: Places, actor) -> list[int]:
    """Built-up pieces that a row of the list has a piece of apart, though the register did not know it."""
    if not places.opened:
        return []
    Position.objects.filter(pk__in=places.opened).update(opened=True)
    whole = Component.objects.filter(
        place__in=places.opened, broken_down=False, state__in=[s.value for s in LIVE if s is not State.WITHDRAWN]
    )
    pieces = list(whole.select_for_update())
    for piece in pieces:
        piece.broken_down = True
        writing.log(
            actor,
            "break down",
            component=piece,
            position_id=piece.place_id,
            from_state=piece.state,
            to_state=piece.state,
            remark="By the works' register, which has a piece of it apart.",
            data={"source": places.source},
        )
        piece.save(update_fields=["broken_down", "last_event"])
    return [piece.pk for piece in pieces]
