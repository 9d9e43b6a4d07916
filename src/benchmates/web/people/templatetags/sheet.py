"""Small pieces that every sheet uses: the key of a form, tokens, marks of a told sentence."""

from __future__ import annotations

import secrets

from django import template
from django.middleware.csrf import get_token
from django.template.context import Context
from django.utils.html import format_html
from django.utils.safestring import SafeString

from benchmates.core.terms import SHAPE_NAMES

register = template.Library()


@register.simple_tag(takes_context=True)
def form_key(context: Context) -> SafeString:
    """Two hidden fields: Django's own against forged posts, and ours, so that a post sent twice stores once."""
    return format_html(
        '<input type="hidden" name="csrfmiddlewaretoken" value="{}"><input type="hidden" name="key" value="{}">',
        get_token(context["request"]),
        secrets.token_urlsafe(12),
    )


@register.filter
def letter(label: str) -> str:
    """The token letter of a group label, or nothing where the label has no token."""
    rest = label[1:]
    plain = rest == "" or rest[0].isdigit()
    return label[0] if plain and label[:1] in SHAPE_NAMES else ""


@register.simple_tag
def token(label: str) -> SafeString:
    """The drawn token of a group: letter, shape and colour; the shape's name for those who cannot see it."""
    mark = letter(label)
    if not mark:
        return SafeString("")
    return format_html(
        '<svg class="tok" role="img" aria-label="{} {}"><use href="#tok-{}"/></svg>', mark, SHAPE_NAMES[mark], mark
    )


@register.filter
def shape(label: str) -> str:
    """What a group is called aloud: "Arch", "Arch 2", or its label where it has no token."""
    mark = letter(label)
    if not mark:
        return label
    return f"{SHAPE_NAMES[mark]} {label[1:]}".strip()


@register.filter
def get(mapping: dict[object, object], key: object) -> object:
    """A value of a mapping, empty if there is none."""
    return mapping.get(key, "")
