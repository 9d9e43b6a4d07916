"""The first page's picture: what a lesson looks like here, before there is a class."""

from __future__ import annotations

from functools import cache

from django.utils.safestring import SafeString, mark_safe

from benchmates.core.strategy.catalogue import way
from benchmates.core.strategy.shape import plan_shape
from benchmates.drawing.glyph import glyph


@cache
def lesson_at_a_glance() -> SafeString:
    """Threads of a class of 28 that grows from alone to eights; the drawing is ours, so it is safe markup."""
    return mark_safe(glyph(plan_shape(way("snowball"), 28)))
