"""The chip of what a place needs."""

from django import template
from django.utils.safestring import SafeString

from core.templatetags.look import chip

register = template.Library()


@register.simple_tag
def need(word: str, large: bool = False) -> SafeString:
    """{% need row.need %}: what a place needs next, by word and shape."""
    return chip("need", str(word), bool(large)) if word else SafeString()
