"""What the readiness pages show, worked out from a loaded `Now`: rows ready for the template, numbers as strings."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from ..common.need_links import NeedLink, need_link
from ..domain.needs import RANK, PlaceStatus, standing_today
from ..domain.plain import capital
from ..domain.readiness import Blocker, Readiness, SubReadiness, can_go_on, lacking, missing_wholes
from ..domain.rows import Place
from ..domain.tallies import Progress
from ..domain.words import Need
from ..queries.consumables import short_in
from ..queries.loading import load_places
from ..queries.readiness import Now

RELEASE = Need.RELEASE


@dataclass(frozen=True, slots=True, kw_only=True)
class SubRow:
    """One subassembly in a list."""

    code: str
    name: str
    href: str
    depth: str
    bar: SafeString  # of its own places: complete is full
    counts: str  # refitted, ready, blocked
    word: str  # complete, clear to assemble, waits, blocked
    waits: str
    needs: str  # what its own blocked places need, with how many of each
    holds_up: str


def bar(progress: Progress, going: int | None = None) -> SafeString:
    """Written here: in a list of three hundred an included template takes forty times as long (27 ms for 0.6).

    `going`: how many of those that are ready can go on today; without it the page does not know, and says neither.
    """
    if not progress.required:
        return mark_safe('<p class="quiet">No place is required here.</p>')
    refitted, blocked, required = progress.refitted, progress.blocked, progress.required
    return mark_safe(
        f'<div class="progress">{strip(progress)}'
        f'<ul class="counts"><li><span class="key key-refitted"></span><b>{refitted}</b> refitted</li>'
        f"{_ready(progress.ready, going)}"
        f'<li><span class="key key-blocked"></span><b>{blocked}</b> blocked</li>'
        f'<li class="quiet">of {required}</li></ul></div>'
    )


def _ready(ready: int, going: int | None) -> str:
    told = [(ready, "accepted")] if going is None else [(going, "can go on today")]
    if going is not None and ready > going:
        told.append((ready - going, "wait for what goes first"))
    return "".join(f'<li><span class="key key-ready"></span><b>{many}</b> {words}</li>' for many, words in told)


def strip(progress: Progress) -> SafeString:
    """The bar alone, full when everything is refitted."""
    refitted, ready, blocked, width = progress.refitted, progress.ready, progress.blocked, progress.required or 1
    return mark_safe(
        f'<svg class="bar" viewBox="0 0 {width} 10" preserveAspectRatio="none" aria-hidden="true">'
        f'<rect class="bar-refitted" x="0" y="0" width="{refitted}" height="10"/>'
        f'<rect class="bar-ready" x="{refitted}" y="5" width="{ready}" height="5"/>'
        f'<rect class="bar-blocked" x="{refitted + ready}" y="8.2" width="{blocked}" height="1.8"/></svg>'
    )


def word_of(sub: SubReadiness) -> str:
    """How far a subassembly is, in a word or two; the first that applies."""
    if not sub.branch.required:
        return "empty"
    if sub.complete:
        return "complete"
    if not sub.own.required:
        return "in its parts"
    if sub.own_clear:
        return "clear to assemble" if sub.clear_to_assemble else "clear but for its parts"
    lacking = [wait for wait in sub.waits if wait.places]
    if lacking and sub.own.blocked:
        return "blocked, and waits"
    return "waits" if lacking else "blocked"


def in_order(found: Readiness) -> list[tuple[SubReadiness, int]]:
    """Every subassembly in order of assembly, parts under what they are part of, each with how deep it lies."""
    by_id = {sub.sub.id: sub for sub in found.subassemblies}
    return [(by_id[id], depth) for id, depth in found.order.outline]


def rows(found: Readiness, slug: str, shown: Iterable[tuple[SubReadiness, int]] | None = None) -> list[SubRow]:
    """The rows of those that are shown: a page of them, or all."""
    top = reverse("locomotive", args=[slug])
    return [
        SubRow(
            code=sub.sub.code,
            name=sub.sub.name,
            href=f"{top}s/{sub.sub.code}/",
            depth=str(depth),
            bar=strip(sub.branch),
            counts=counts(sub.branch),
            word=word_of(sub),
            waits=waits_in_words(sub, found),
            needs=needs_in_words(sub),
            holds_up=str(sub.holds_up),
        )
        for sub, depth in (in_order(found) if shown is None else shown)
    ]


def table_rows(shown: Iterable[SubRow]) -> SafeString:
    """Written here: forty rows of ten cells are a third of the page's time in a template."""
    return mark_safe("".join(map(_table_row, shown)))


def _table_row(row: SubRow) -> str:
    part = ' class="desk"' if row.depth != "0" else ""
    return (
        f'<tr{part}><th scope="row"><a class="depth-{row.depth}" href="{escape(row.href)}">{escape(row.name)}</a></th>'
        f'<td class="how-far">{row.bar}</td><td class="counted num">{row.counts}</td>'
        f'<td class="counted">{row.word}</td><td class="desk brief">{row.needs}</td>'
        f'<td class="desk brief">{escape(row.waits)}</td><td class="num desk">{row.holds_up}</td></tr>'
    )


def waits_in_words(sub: SubReadiness, found: Readiness) -> str:
    return ", ".join(found.order.by_id[wait.id].name for wait in sub.waits if wait.places)


def counts(progress: Progress) -> str:
    return f"{progress.refitted} · {progress.ready} · {progress.blocked}" if progress.required else ""


def needs_in_words(sub: SubReadiness) -> str:
    """'3 strip, 9 clean': in the order of the table, with a hold point on it or above it first."""
    numbers = dict(sub.needs)
    if holds := sum(blocker.place is None and blocker.need is RELEASE for blocker in sub.blockers):
        numbers[RELEASE] = numbers.get(RELEASE, 0) + holds
    return ", ".join(f"{numbers[need]} {need}" for need in sorted(numbers, key=RANK.__getitem__))


def total(found: Readiness) -> Progress:
    """The whole locomotive: every subassembly's own places, each once."""
    return Progress(*map(sum, zip(*(sub.own for sub in found.subassemblies), strict=True)))


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockerRow:
    """One thing in the way, with where to go to do something about it."""

    words: str
    href: str
    tag: str
    need: str  # a `Need`, or "refit"
    reasons: tuple[str, ...]
    holds_up: str
    since: object
    due: object
    overdue: bool
    subassembly: str
    link: NeedLink | None = None  # what starts or goes on with what it needs


def blocker_rows(blockers: list[Blocker], found: Readiness, slug: str, roles=()) -> list[BlockerRow]:
    top = reverse("locomotive", args=[slug])
    made = []
    for blocker in blockers:
        sub = found.order.by_id[blocker.subassembly]
        there = f"{top}s/{sub.code}/"
        if blocker.place is None:
            href = f"{top}holds/" if blocker.need == Need.RELEASE else there
        else:
            href = f"/t/{blocker.tag}" if blocker.tag else reverse("position", args=[blocker.place])
        made.append(
            BlockerRow(
                words=blocker.words or f"All of {sub.name}",
                href=href,
                tag=blocker.tag,
                need=blocker.need,
                reasons=blocker.reasons,
                holds_up=str(blocker.holds_up),
                since=blocker.since,
                due=blocker.due,
                overdue=bool(blocker.due and blocker.due < found.as_of),
                subassembly=sub.name,
                link=None
                if blocker.stopped  # it stands first on the page, with its button
                else need_link(blocker.need, roles, place=blocker.place, tag=blocker.tag, target=blocker.target),
            )
        )
    return made


@dataclass(frozen=True, kw_only=True)
class SubassemblyContext:
    """The page of one subassembly."""

    sub: SubReadiness
    found: Readiness
    word: str
    bar: SafeString
    branch_bar: SafeString | None  # with all below it, where there is something below
    stops: list[BlockerRow]  # what stands against the subassembly itself
    after: list[tuple[str, str]]  # of that, what it goes on after: its page, and the sentence
    groups: list[tuple[Need, list[BlockerRow]]]
    going: list[Place]  # ready, and can go on today
    waiting: list[Place]  # ready, and wait for what goes first
    refitted: list[Place]
    asleep: int
    parts: list[SubRow]
    missing: bool  # not one piece of it is here
    short_of: list[tuple[str, str]]  # address and sentence of each consumable that is not there in the number wanted


def _goes_on_after(sub: SubReadiness, found: Readiness, slug: str) -> list[tuple[str, str]]:
    told = next((one.reasons for one in sub.blockers if one.need == Need.AFTER and one.place is None), ())
    if not told:
        return []  # it is finished, and waits for nothing any more
    pages = [reverse("subassembly", args=[slug, found.order.by_id[wait.id].code]) for wait in lacking(sub.waits)]
    return list(zip(pages, told, strict=True))


def subassembly_context(now: Now, subassembly_id: int, roles=()) -> SubassemblyContext:
    slug = now.locomotive.slug
    places = load_places({"subassembly_id": subassembly_id})
    found = now.readiness(listed=places)
    sub = next(sub for sub in found.subassemblies if sub.sub.id == subassembly_id)
    told = [(place, standing_today(place, now.today)) for place in places]
    ready = [place for place, standing in told if standing.status == PlaceStatus.READY]
    going = can_go_on(found, sub, ready)
    groups = defaultdict(list)
    for row in blocker_rows([b for b in sub.blockers if b.place is not None], found, slug, roles):
        groups[row.need].append(row)
    lineage = found.order.lineage
    parts = [one for one in in_order(found) if subassembly_id in lineage[one[0].sub.id][1:]]
    below = rows(found, slug, parts)
    return SubassemblyContext(
        sub=sub,
        found=found,
        word=word_of(sub),
        bar=bar(sub.own, len(going)),
        branch_bar=bar(sub.branch) if below else None,
        stops=blocker_rows([b for b in sub.blockers if b.place is None], found, slug, roles),
        after=_goes_on_after(sub, found, slug),
        groups=[(need, groups[need]) for need in Need if groups[need]],
        going=going,
        waiting=[place for place in ready if place not in going],
        refitted=[
            place for place, standing in told if standing.status == PlaceStatus.REFITTED and not standing.in_doubt
        ],
        asleep=sum(standing.status == PlaceStatus.ASLEEP for _, standing in told),
        parts=below,
        missing=any(subassembly_id in (top, *parts) for top, parts in missing_wholes(found).items()),
        short_of=[
            (one.get_absolute_url(), capital(stock.short_in_words(wanted, now.today)))
            for one, stock, wanted in short_in(subassembly_id)
        ],
    )
