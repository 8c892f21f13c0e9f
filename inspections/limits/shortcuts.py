"""What views of limits share: answering a refusal on a page with several forms."""

from core.domain.refusals import Refused
from parts.common.fields import refuse
from parts.common.shortcuts import status_of


def spread(refused: Refused, *forms) -> int:
    """Each refusal to the form that has its field, or else to the first."""
    for refusal in refused.refusals:
        refuse(next((form for form in forms if refusal.code in form.fields), forms[0]), Refused(refusal))
    return status_of(refused.refusals)


def with_edition(form, newest) -> None:
    """Whoever was told that somebody was quicker sees what holds now, and may send the form again."""
    form.data = form.data.copy()
    form.data["seen"] = str(newest.edition) if newest else ""
