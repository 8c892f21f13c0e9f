"""One examiner's report over like pieces: what was signed of each."""

from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.models import Event
from inspections.models import Examination


@signed_in
@require_safe
def shared_report(request, pk):
    event = get_object_or_404(Event.objects.select_related("actor"), pk=pk, action="sign report")
    records = (
        Examination.objects.filter(component__in=event.data["pieces"], subject__report=pk).for_page().order_by("id")
    )
    page = {
        "page": f"Report {pk}",
        "event": event,
        "lines": list(zip(event.data["names"], records, strict=False)),
        "left_out": event.data["left_out"],
    }
    return render(request, "inspections/examinations/shared_report.html", page)
