"""What each kind of sheet says on the page where it is signed, and how it is signed. One class for each kind of sheet,
made over what was kept of it."""

from urllib.parse import urlencode

from django.urls import reverse

from core.domain.catalogue import CATALOGUE
from core.domain.refusals import Refusal
from parts.common.piece_context import kinds_called_for
from parts.domain.plain import capital
from parts.domain.states import refusals_of
from parts.domain.words import Kind

from ..cracks import crack_context
from ..cracks.forms.crack_checks import MISSED, UNITS
from ..cracks.views import CrackCheckPage, say_where, with_marks
from ..domain.indications import NOT_MODELLED
from ..examinations.views.examine import on_this_form
from ..examinations.views.tests import form_of, not_authorised
from ..measuring.views import NAMES, SizesPage, unready
from ..records.forms import SHEETS, TESTS, Examine
from ..records.like_pieces import like
from ..records.reading_over import lines_of
from ..records.writers.drafts import sign_sheet

Line = tuple[str, str]
LEFT_OUT = "In doubt: left out. Sign it separately."


class PlainSheet:
    """A look that has no form of its own."""

    def __init__(self, request, code, piece, case, kind: Kind, data):
        self.request, self.code, self.piece, self.case, self.kind = request, code, piece, case, kind
        self.form = self.made(data)

    def made(self, data):
        called_for = kinds_called_for(self.case) if self.case.place else []
        return Examine(
            data, component=self.piece, place=self.case.place, authorised=on_this_form(self.case),
            called_for=called_for,
            like=like(self.piece, Kind.VISUAL, self.case.place.inside if self.case.place else ()),
        )  # fmt: skip

    def against(self) -> list[Refusal]:
        """Why this cannot be signed now, whatever stands in it."""
        return refusals_of(CATALOGUE.action("examine"), self.case)

    @property
    def back(self) -> str:
        return f"{reverse(SHEETS.get(self.kind, 'examine'), args=[self.code])}?{urlencode({'kept': self.kind})}"

    def good(self) -> bool:
        return self.form.is_valid()

    def lines(self) -> list[Line]:
        shut = self.form.record()["not_reached"]
        told = [*lines_of(self.form, ("inside_not_reached", *self.form.like_names())), *like_lines(self.form)]
        return [*told, ("Not reached, so not examined", "; ".join(shut))] if shut else told

    def comes_to(self) -> list[str]:
        """What of this makes it a defect, or no test yet."""
        return []

    def marks(self) -> list[str]:
        return []

    @property
    def note(self) -> str:
        return ""

    def sign(self):
        return sign_sheet(self.piece, self.request.user, **self.entered())

    def entered(self) -> dict:
        return {"likes": self.form.likes(), **self.form.record()}


def like_lines(form) -> list[Line]:
    """A line and a verdict for each like piece of the report."""
    return [(one.words, f"Sound. {one.line}".strip() if one.sound else LEFT_OUT) for one in form.likes()]


class TestSheet(PlainSheet):
    __test__ = False

    def made(self, data):
        return form_of(self.kind, self.piece, data)

    def against(self):
        return super().against() or not_authorised(self.case, self.kind)

    def lines(self) -> list[Line]:
        return self.form.read_back()[0]

    def comes_to(self) -> list[str]:
        return self.form.read_back()[1]

    def entered(self) -> dict:
        return self.form.record()


class CrackSheet(PlainSheet):
    def made(self, data):
        self.rights = crack_context.rights_of(self.request.user, self.case.today)
        page = CrackCheckPage(self.request, self.code, self.piece, self.case, self.rights)
        data = with_marks(data)
        self.indications = page.marks(data)
        return page.form(data)

    def against(self):
        refusal = crack_context.against(self.case, self.rights)
        return [refusal] if refusal else []

    def good(self) -> bool:
        if self.indications.is_valid() & self.form.is_valid():
            self.indications.judge(self.form.cleaned_data.get("level", ""))
        if not self.indications.is_valid():
            say_where(self.form, self.indications)
        return self.form.is_valid()

    def lines(self) -> list[Line]:
        record = self.form.record()
        left = ("inside_not_reached", MISSED, *self._not_for_method(), *self.form.like_names())
        told = [*lines_of(self.form, left, UNITS), *like_lines(self.form)]
        told += [(asked.sentence, self.form.reasons[asked.code]) for asked in self.form.questions]
        shut = record["not_reached"]
        return [*told, ("Not reached, so not examined", "; ".join(shut))] if shut else told

    def _not_for_method(self) -> list[str]:
        """What the method does not need is not signed, even if something stands there."""
        check = self.form.entered()
        method = self.form.cleaned_data["method"]
        left = [name for name in ("viewing", "uv_a_w_m2") if name in self.form.fields and not getattr(check, name)]
        return left + self.form.not_needed_by(method)

    def marks(self) -> list[str]:
        kept = [form for form in self.indications.forms if form.row]
        return [f"{capital(form.row.where)}. {form.echo}" if form.row.where else form.echo for form in kept]

    def photos(self) -> list[crack_context.Marked]:
        return crack_context.marked_photos([form.row for form in self.indications.forms if form.row])

    @property
    def note(self) -> str:
        return NOT_MODELLED if self.marks() else ""

    def entered(self) -> dict:
        return {
            "kind": Kind.CRACK_CHECK, "check": self.form.entered(), "marks": self.indications.marks,
            "likes": self.form.likes(), **self.form.record(),
        }  # fmt: skip


class SizesSheet(PlainSheet):
    """A sheet of sizes is kept as it is typed; what is signed is what is kept."""

    def made(self, data):
        self.page = SizesPage(self.request, self.code, self.kind)
        return self.page.signing(data)

    def against(self):
        return self.page.against()

    @property
    def back(self) -> str:
        return f"{reverse(NAMES[self.kind], args=[self.code])}#sheet"

    def good(self) -> bool:
        self.form.is_valid()
        if self.page.sheet.sizes and not self.page.sheet.done:
            self.form.add_error(None, "Measure at least one size before you sign.")
        for _, sentence in unready(self.page.sheet):
            self.form.add_error(None, sentence)
        return not self.form.errors

    def lines(self) -> list[Line]:
        told = []
        for size in self.page.sheet.sizes:
            line = size.line
            if line.is_blank:
                continue
            read = "; ".join(f"{figure.label}: {figure.echo}" if size.many else figure.echo for figure in size.read)
            words = [read, f"With {line.instrument}" if line.instrument else ""]
            words += [line.measured.sentence] if line.measured else []
            words += [f"{asked.sentence} {asked.reason}" for asked in size.asked if asked.reason]
            told.append((capital(str(size.dimension)), ". ".join(word.rstrip(".") for word in words if word)))
        shut = self.form.cleaned_data.get("shut", ())
        blank = [size.dimension for size in self.page.sheet.sizes if size.line.is_blank]
        left = [str(one) for one in blank if str(one.pk) not in shut]
        told += [("Not measured", "; ".join(left))] if left else []
        return told + list(lines_of(self.form))

    def comes_to(self) -> list[str]:
        return [line.measured.sentence for line in self.page.sheet.lines if line.measured and line.measured.outside]

    def entered(self) -> dict:
        return {"kind": self.kind.value, "lines": self.page.sheet.lines, **self.form.record()}


def sheet_of(request, code, piece, case, kind: Kind, data, *, sized: bool):
    made = PlainSheet
    if kind in TESTS:
        made = TestSheet
    elif kind is Kind.CRACK_CHECK:
        made = CrackSheet
    elif kind in NAMES and sized:
        made = SizesSheet
    return made(request, code, piece, case, kind, data)
