"""Small pieces that every sheet uses: the key of a form, tokens, marks of a told sentence."""

from __future__ import annotations

import secrets

from django import template
from django.middleware.csrf import get_token
from django.template.context import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from benchmates.drawing.ink import definitions as drawn_definitions
from benchmates.drawing.tokens import token_of, token_svg

register = template.Library()


@register.simple_tag(takes_context=True)
def form_key(context: Context) -> SafeString:
    """Two hidden fields: Django's own against forged posts, and ours, so that a post sent twice stores once."""
    return format_html(
        '<input type="hidden" name="csrfmiddlewaretoken" value="{}"><input type="hidden" name="key" value="{}">',
        get_token(context["request"]),
        secrets.token_urlsafe(12),
    )


@register.simple_tag
def token(label: str) -> SafeString:
    """The drawn token of a group: letter, shape and colour; said by the words beside it, which do for other labels."""
    if token_of(label) is None:
        return SafeString("")
    return mark_safe(token_svg(label, hidden=True))


@register.simple_tag
def definitions() -> SafeString:
    """Tokens and hatches, once for each page that holds drawings."""
    return mark_safe(drawn_definitions())


@register.filter
def get(mapping: dict[object, object], key: object) -> object:
    """A value of a mapping, empty if there is none."""
    return mapping.get(key, "")
