"""The few SVG elements a drawing is made of, written safely."""

from __future__ import annotations

from urllib.parse import quote
from xml.sax.saxutils import escape

from benchmates.core.terms import PupilId

# XML 1.0 knows no control characters; a name pasted from elsewhere may hold some.
_FORBIDDEN = dict.fromkeys((*range(9), 11, 12, *range(14, 32), *range(127, 160), 65534, 65535))


def clean(words: str) -> str:
    """Words as text or attribute value of an element."""
    return escape(words.translate(_FORBIDDEN), {'"': "&quot;"})


def text(x: float, y: float, words: str, kind: str, *, anchor: str = "start", more: str = "") -> str:
    """A line of words."""
    hung = "" if anchor == "start" else f' text-anchor="{anchor}"'
    return f'<text class="{kind}" x="{x:.1f}" y="{y:.1f}"{hung}{more}>{clean(words)}</text>'


def line(d: str, kind: str, more: str = "") -> str:
    """A path of one class."""
    return f'<path class="{kind}" d="{d}"{more}/>'


def hatch(x: float, y: float, width: float, height: float, kind: str) -> str:
    """A hatched strip: "fixed" or "move"."""
    return f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" fill="url(#h-{kind})"/>'


def whose(pupil: PupilId) -> str:
    """The attribute by which a mark belongs to a pupil."""
    return f' data-p="{clean(pupil)}"'


def members(pupils: tuple[PupilId, ...]) -> str:
    """The attribute by which a sleeve knows its members: ids joined by spaces, each as in an address."""
    return f' data-m="{" ".join(quote(p, safe="") for p in pupils)}"'
