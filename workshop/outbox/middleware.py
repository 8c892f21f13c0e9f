"""What phones kept and send later: answered once each, in words that the script on the phone can read.

A form that is marked `data-keep` is kept on the phone before it is sent (static/js/kept-*.js). Its sending carries a
key that the phone made, whose work it is, and when it was done; without scripts the same form comes as a plain form.
"""

import re
from datetime import datetime

from django.contrib.messages import get_messages
from django.contrib.messages.storage.base import BaseStorage
from django.db import OperationalError
from django.http import HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.dateparse import parse_datetime

from core.log import idempotency
from core.models import Receipt

from ..middleware import trouble_with_the_disk

KEY = re.compile(r"[0-9a-f]{32}")


def answer_once(get_response):
    """The innermost middleware: whatever a kept thing changes is written together with its receipt."""

    def middleware(request):
        key = request.headers.get("X-Cotter-Key", "")
        if not key or request.method != "POST":
            return get_response(request)
        if refused := _not_now(request, key):
            return refused
        if known := Receipt.objects.of_key(key):
            return _again(request, known)
        arrival = idempotency.IdempotentRequest(key, request.user, _sent_to(request), _when_kept(request))
        with idempotency.arriving(arrival):
            return _settled(request, arrival, get_response(request))

    def process_exception(request, exception):
        if arrival := idempotency.under_way():
            arrival.undo()  # the page that tells of it may ask the database
        return _again(request, exception.receipt) if isinstance(exception, idempotency.AlreadyArrived) else None

    middleware.process_exception = process_exception  # type: ignore[attr-defined]  # Django looks for it there
    return middleware


def _not_now(request, key: str) -> HttpResponse | None:
    """Signed out, or somebody else is signed in by now: the phone keeps it until its owner is back."""
    if not KEY.fullmatch(key):
        return JsonResponse({"said": "The key of this sending is not one that Cotter's pages make."}, status=400)
    if not request.user.is_authenticated:
        return JsonResponse({"person": None}, status=401)
    if request.headers.get("X-Cotter-Person") != str(request.user.pk):
        return JsonResponse({"person": request.user.pk, "name": str(request.user)}, status=401)
    return None


def _sent_to(request) -> str:
    return request.get_full_path()[:300]


def _when_kept(request) -> datetime | None:
    """By the phone's clock; only told, never trusted."""
    try:
        kept_at = parse_datetime(request.headers.get("X-Cotter-Kept-At", ""))
    except ValueError:
        return None
    return kept_at if kept_at and timezone.is_aware(kept_at) else None


def _settled(request, arrival: idempotency.IdempotentRequest, response) -> HttpResponse:
    """What a view wrote before it refused the rest stays, as it does for a plain form."""
    if hasattr(response, "receipt"):
        return response  # another sending was quicker
    try:
        if response.status_code < 400:
            return _answer(arrival.done(_message(request), getattr(response, "url", request.path)), again=False)
        if response.status_code < 500:
            arrival.partly()
    except OperationalError as failed:
        trouble = trouble_with_the_disk(failed)
        if not trouble:
            raise
        return render(request, "trouble.html", {"trouble": trouble}, status=503)
    return response


def _message(request) -> str:
    """What the next page would have said. It still does, if somebody waits for that page now."""
    told = get_messages(request)
    words = " ".join(str(message) for message in told)
    if request.headers.get("X-Cotter-Now") and isinstance(told, BaseStorage):
        told.used = False
    return words


def _again(request, receipt: Receipt) -> HttpResponse:
    if receipt.person_id != request.user.pk or receipt.sent_to != _sent_to(request):
        return JsonResponse({"said": "Another sending has this key."}, status=409)
    return _answer(receipt, again=True)


def _answer(receipt: Receipt, *, again: bool) -> JsonResponse:
    body = {"said": receipt.message, "onward": receipt.onward, "seen": receipt.seen, "again": again}
    answer = JsonResponse(body, headers={"Cache-Control": "no-store"})
    answer.receipt = receipt  # type: ignore[attr-defined]  # _settled knows it by this
    return answer
