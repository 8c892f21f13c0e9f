"""What repairs and the steps of renewals have in common: who does it, when, for how much, and every promised day."""

from datetime import date
from decimal import Decimal

from django.db.models import TextField

from core.domain.catalogue import may, who_may
from core.domain.refusals import Refusal, Refused
from core.models.longest import longest

from ..actions import writing
from ..domain.jobs import amount_troubles, cost_troubles, day_troubles, promise_troubles
from ..models import Promise, Repair
from ..models.money import COSTS

JOB = ("firm", "who", "ordered", "done", *COSTS, "currency")
"""What either may be told, besides its own fields. A promised day has a writer of its own."""


def allow_any(actor, *deeds: str) -> None:
    """Refuse unless one of the person's roles allows one of these deeds."""
    if actor.is_active and any(may(actor.role_names, deed) for deed in deeds):
        return
    roles = dict.fromkeys(role for deed in deeds for role in who_may(deed))
    raise Refused(Refusal("role", f"Your roles do not allow “{deeds[0]}”.", f"It needs: {', '.join(roles)}."))


def not_stale(job, seen: int | None) -> None:
    """A form carries the number of the last event it knew of."""
    if seen is not None and seen != job.last_event:
        raise Refused(
            Refusal(
                "stale",
                "Somebody changed it after you opened the page.",
                "Nothing of yours was saved. Look at it again, then send it.",
            )
        )


def fill(job, entered: dict, fields: tuple[str, ...]) -> dict:
    """Put what was said into the row; answers what changed, as the event keeps it."""
    unknown = set(entered) - set(fields)
    if unknown:
        raise TypeError(f"not to be said here: {unknown}")
    changed = {}
    for field, value in entered.items():
        value = _tidy(job, field, value) if isinstance(value, str) else value
        before = getattr(job, field)
        if before != value:
            changed[field] = [plain(before), plain(value)]
            setattr(job, field, value)
    if changed.get("currency", [""])[0]:  # then every sum is another one, though its figures stayed
        changed |= {c: [plain(getattr(job, c))] * 2 for c in COSTS if c not in changed and getattr(job, c) is not None}
    return changed


def _tidy(job, field: str, text: str) -> str:
    """What may have several lines keeps them."""
    if not isinstance(job._meta.get_field(field), TextField):
        return " ".join(text.split())
    return "\n".join(" ".join(line.split()) for line in text.strip().splitlines())


def plain(value):
    """As an event's data can keep it: sums and days as they are written, things by their name."""
    if isinstance(value, Decimal | date):
        return str(value)
    return value if value is None or isinstance(value, int | str | bool) else str(value)


def troubles(job) -> list[Refusal]:
    """Why the row cannot be kept like this: days, sums, lengths."""
    found = day_troubles(ordered=job.ordered, promised=job.promised, done=job.done, today=writing.today())
    found += cost_troubles({name: getattr(job, name) for name in COSTS}, job.currency)
    found += too_long(job)
    if isinstance(job, Repair):
        found += amount_troubles("hours", "Hours", job.hours, Decimal(10) ** 5, 2)
        found += amount_troubles("let_in_kg", "Mass let in", job.let_in_kg, Decimal(10) ** 6, 3)
    return found


def costs_of(job) -> dict:
    """The sums that the row holds, as an event's data can keep them."""
    return {name: plain(getattr(job, name)) for name in COSTS if getattr(job, name) is not None}


def too_long(row) -> list[Refusal]:
    found = []
    for field in row._meta.fields:
        value = getattr(row, field.attname)
        if isinstance(value, str) and field.name != "currency" and field.max_length and len(value) > field.max_length:
            label = field.verbose_name[:1].upper() + field.verbose_name[1:]
            sentence = f"{label}: more than {field.max_length} characters."
            found.append(Refusal(field.name, sentence, "Say it in fewer words."))
    return found


def promise(job, new: date | None, why: str, event, actor) -> Promise:
    """Keep a promised day as a row of its own; what was promised before stays."""
    kept = Promise.objects.create(
        old=job.promised,
        new=new,
        why=" ".join(why.split()),
        event=event,
        by=actor,
        at=event.at,
        **{"repair" if isinstance(job, Repair) else "step": job},
    )
    job.promised = new
    return kept


def promise_refused(job, new: date | None, why: str) -> list[Refusal]:
    found = promise_words(job.promised, new, why)
    return found + day_troubles(ordered=job.ordered, promised=new, done=None, today=writing.today())


def promise_words(old: date | None, new: date | None, why: str) -> list[Refusal]:
    """What a change of a promised day lacks in words."""
    found = promise_troubles(old, new, why)
    if len(why) > longest(Promise, "why"):
        found.append(Refusal("why", "Why: too long.", "Say it in fewer words."))
    return found
