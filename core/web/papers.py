"""How a paper that was printed here is answered."""

from django.http import HttpResponse


def pdf(file: bytes, name: str) -> HttpResponse:
    """Opened in the browser, and kept by none: the next one may say something else."""
    answer = HttpResponse(file, content_type="application/pdf")
    answer.headers["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    answer.headers["Cache-Control"] = "no-store"
    return answer
