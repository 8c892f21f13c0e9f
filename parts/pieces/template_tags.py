"""The chips of a piece: its state, and what else is marked on it."""

from django import template
from django.utils.safestring import SafeString

from core.templatetags.look import chip

register = template.Library()


@register.simple_tag
def state(word: str, large: bool = False) -> SafeString:
    """{% state piece.state %}: what has become of a piece, by word and shape."""
    return chip("state", str(word), bool(large)) if word else SafeString()


@register.simple_tag
def badge(word: str) -> SafeString:
    """{% badge "in doubt" %}: on trial, in doubt, safety-critical, pressure part, cracked, quarantined, overdue."""
    return chip("badge", str(word), False)
