"""What waits to be examined, sorted by what has to be done: an examiner's day at the bench."""

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from workshop.access import signed_in
from workshop.roles import may

from ..waiting import sorts, waiting


@require_safe
@signed_in
def examinations(request):
    counted = sorts()
    sort = request.GET.get("for", "")
    sort = sort if sort in counted else ""
    page = {
        "page": "What waits to be examined",
        "tabs": tabs(counted, sort),
        "page_obj": waiting(sort, request.GET.get("page")),
        "may_examine": may(request.user.role_names, "examine"),
    }
    return render(request, "inspections/examinations.html", page)


def tabs(counted: dict[str, int], chosen: str) -> list[dict]:
    address = reverse("examinations")
    found = [{"href": address, "label": f"All {sum(counted.values())}", "current": not chosen}]
    for sort, number in counted.items():
        href = f"{address}?for={sort.replace(' ', '+')}"
        found.append({"href": href, "label": f"{sort.capitalize()} {number}", "current": sort == chosen})
    return found
