"""What phones kept and send later: answered once each, in words that the script on the phone can read.

A form that is marked `data-keep` is kept on the phone before it is sent (static/js/kept-*.js). Its sending carries a
key that the phone made, whose work it is, and when it was done; without scripts the same form comes as a plain form.
Any other form carries the key of its draft as a field (static/js/press.js): what arrived is not done twice either.
"""

import re
from datetime import datetime
from html import unescape
from typing import Any

from django.contrib import messages
from django.contrib.messages import get_messages
from django.contrib.messages.storage.base import BaseStorage
from django.core.exceptions import SuspiciousOperation
from django.db import OperationalError
from django.http import HttpResponse, HttpResponseRedirect, JsonResponse, UnreadablePostError
from django.shortcuts import render
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.utils.html import strip_tags
from django.utils.safestring import SafeString

from core.log import idempotency
from core.models import Receipt

from ..middleware import trouble_with_the_disk

KEY = re.compile(r"[0-9a-f]{32}")
FIELD = "cotter-key"


def answer_once(get_response):
    """The innermost middleware: whatever a kept thing changes is written together with its receipt."""

    def middleware(request):
        key = request.headers.get("X-Cotter-Key", "")
        if request.method != "POST":
            return get_response(request)
        if not key:
            return _pressed(request, get_response)
        if refused := _not_now(request, key):
            return refused
        if known := Receipt.objects.of_key(key):
            return _again(request, known)
        arrival = idempotency.IdempotentRequest(key, request.user, _sent_to(request), _when_kept(request))
        with idempotency.arriving(arrival):
            return _settled(request, arrival, get_response(request))

    def process_exception(request, exception):
        if arrival := idempotency.under_way.get():
            arrival.undo()  # the page that tells of it may ask the database
        if not isinstance(exception, idempotency.AlreadyArrived):
            return None
        return (_again if "X-Cotter-Key" in request.headers else _on_again)(request, exception.receipt)

    middleware.process_exception = process_exception  # type: ignore[attr-defined]  # Django looks for it there
    return middleware


def _pressed(request, get_response) -> HttpResponse:
    """A plain form: only where it leads on is it done. A page in answer is a step on the way, or a refusal."""
    key = _taken_out(request) if request.user.is_authenticated else ""
    if not KEY.fullmatch(key):
        return get_response(request)
    if known := Receipt.objects.of_key(key):
        return _on_again(request, known)
    arrival = idempotency.IdempotentRequest(key, request.user, _sent_to(request))
    with idempotency.arriving(arrival):
        response = get_response(request)
        try:
            if 300 <= response.status_code < 400 and not hasattr(response, "receipt"):
                response.receipt = arrival.done("", response.url)
            elif response.status_code < 500:
                arrival.partly()
        except OperationalError as failed:
            return _trouble(request, failed)
        return response


def _taken_out(request) -> str:
    """The key, which no view need know of."""
    try:
        sent = request.POST.copy()
    except UnreadablePostError:
        return ""  # whoever reads it next says so
    if FIELD not in sent:
        return ""
    key = sent.pop(FIELD)[-1]
    sent._mutable = False
    request.POST = sent
    return key


def _on_again(request, receipt: Receipt) -> HttpResponse:
    if receipt.person_id != request.user.pk:
        raise SuspiciousOperation("The key of another person.")
    messages.info(request, "This had arrived already. It was not done twice.")
    answer = HttpResponseRedirect(receipt.onward or "/")
    answer.receipt = receipt  # type: ignore[attr-defined]  # _pressed knows it by this
    return answer


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
            if refused := _refused(request):
                arrival.partly()
                return JsonResponse({"said": refused}, status=409)
            return _answer(arrival.done(_message(request), getattr(response, "url", request.path)), again=False)
        if response.status_code < 500:
            arrival.partly()
    except OperationalError as failed:
        return _trouble(request, failed)
    return response


def _trouble(request, failed: OperationalError) -> HttpResponse:
    """What is kept is kept here, outside of the view, where nobody else owns up to a full disk."""
    trouble = trouble_with_the_disk(failed)
    if not trouble:
        raise failed
    return render(request, "trouble.html", {"trouble": trouble}, status=503)


def _refused(request) -> str:
    """What a button without a form of its own tells on the page that follows, which nobody sees who was cut off."""
    told: Any = get_messages(request)
    new = getattr(told, "_queued_messages", ())  # what an earlier page was to tell is no answer to this
    refused = [str(message) for message in new if message.level >= messages.ERROR]
    if refused:
        list(told)  # nobody is told twice
    return " ".join(refused)


def _message(request) -> str:
    """What the next page would have said. It still does, if somebody waits for that page now."""
    told = get_messages(request)
    words = " ".join(_words(message.message) for message in told)
    if request.headers.get("X-Cotter-Now") and isinstance(told, BaseStorage):
        told.used = False
    return words


def _words(message) -> str:
    """What links to a piece is read out by a script, as words."""
    return unescape(strip_tags(message)) if isinstance(message, SafeString) else str(message)


def _again(request, receipt: Receipt) -> HttpResponse:
    if receipt.person_id != request.user.pk or receipt.sent_to != _sent_to(request):
        return JsonResponse({"said": "Another sending has this key."}, status=409)
    return _answer(receipt, again=True)


def _answer(receipt: Receipt, *, again: bool) -> JsonResponse:
    body = {"said": receipt.message, "onward": receipt.onward, "seen": receipt.seen, "again": again}
    answer = JsonResponse(body, headers={"Cache-Control": "no-store"})
    answer.receipt = receipt  # type: ignore[attr-defined]  # _settled knows it by this
    return answer
