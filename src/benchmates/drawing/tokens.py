"""The twelve group tokens: letter, shape and colour together, never colour alone."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from types import MappingProxyType
from xml.sax.saxutils import escape, quoteattr

from benchmates.core.terms import SHAPE_NAMES, TOKEN_LETTERS
from benchmates.drawing.lettering import FACE
from benchmates.drawing.palette import PALETTE, WHITE

_LABEL = re.compile(rf"[{TOKEN_LETTERS}](\d{{0,2}}[a-z]?)")
_SIDE = 48  # every path is drawn on a square of this side


@dataclass(frozen=True)
class Token:
    """One token: its shape as an SVG path on a 48 x 48 square, fill, letter colour and the letter's baseline."""

    letter: str
    shape: str
    path: str
    fill: str
    ink: str
    baseline: float

    @property
    def is_pale(self) -> bool:
        """Whether the fill is pale, so that the shape needs an ink edge."""
        return self.ink != WHITE

    @property
    def edge(self) -> str:
        """The colour that parts the shape from the paper."""
        return PALETTE["ink"] if self.is_pale else self.fill


def _cog(teeth: int = 8, outer: float = 22.0, inner: float = 17.0) -> str:
    points = []
    for tooth in range(teeth):
        for step, radius in ((-0.30, inner), (-0.20, outer), (0.20, outer), (0.30, inner)):
            angle = (tooth + step) * 2 * math.pi / teeth - math.pi / 2
            points.append(f"{24 + radius * math.cos(angle):.1f} {24 + radius * math.sin(angle):.1f}")
    return "M" + "L".join(points) + "Z"


# Dark and pale fills take turns, so that neighbours differ in greyscale too.
_MADE = {
    "A": ("M5 44V24A19 19 0 0 1 43 24V44Z", "#002E51", WHITE, 35),
    "B": ("M6 6H42V42H6Z", "#FFD55C", PALETTE["ink"], 33),
    "C": (_cog(), "#512D13", WHITE, 32.5),
    "D": ("M13 6H35L46 43H2Z", "#B2DEFF", PALETTE["ink"], 36),
    "E": ("M24 3A21 21 0 1 1 23.9 3Z", "#8349A7", WHITE, 32.5),
    "F": ("M3 7H45L36 24L45 41H3Z", "#EA9A89", PALETTE["ink"], 33),
    "G": ("M24 2L45 20V44H3V20Z", "#346646", WHITE, 38),
    "H": ("M13 5H35L46 24L35 43H13L2 24Z", "#C7DD8C", PALETTE["ink"], 33),
    "K": ("M24 1L44 21L24 47L4 21Z", "#36383C", WHITE, 31),
    "L": ("M4 4H24A20 20 0 0 1 44 24V44H24A20 20 0 0 1 4 24Z", "#C5B1D5", PALETTE["ink"], 33),
    "M": ("M14 7H47L34 41H1Z", "#1E7180", WHITE, 33),
    "N": ("M3 6H13L24 17L35 6H45V44H3Z", PALETTE["paper"], PALETTE["ink"], 40),
}
TOKENS = MappingProxyType(
    {
        letter: Token(letter, SHAPE_NAMES[letter], path, fill, ink, baseline)
        for letter, (path, fill, ink, baseline) in _MADE.items()
    }
)


def token_of(label: str) -> Token | None:
    """The token of a group's label ("A", "B2", "A1a"); None for a label in words, as expert groups have."""
    return TOKENS[label[0]] if _LABEL.fullmatch(label) else None


def spoken(label: str) -> str:
    """A label as it is said: "A Arch", "B2 Block"; a label in words stays as it is."""
    token = token_of(label)
    return label if token is None else f"{label} {token.shape}"


def token_svg(label: str, *, size: int | None = None, hidden: bool = False) -> str:
    """One token as an SVG that needs nothing else; a label in words becomes an outlined card with a cut corner.

    Parameters
    ----------
    label
        The group's label; a part shows its whole label.
    size
        Width and height in px; without it the style sheet decides.
    hidden
        Leave the token unsaid where the same words stand beside it.
    """
    token = token_of(label)
    width = _SIDE if token else _card_width(label)
    box = f"-1 -1 {width + 2} {_SIDE + 2}"
    sized = "" if size is None else f' width="{size * width / _SIDE:g}" height="{size}"'
    said = ' aria-hidden="true"' if hidden else f' role="img" aria-label={quoteattr(spoken(label))}'
    inside = _card(label, width) if token is None else _face(token, label)
    return f'<svg xmlns="http://www.w3.org/2000/svg" class="tok" viewBox="{box}"{sized}{said}>{inside}</svg>'


def symbols() -> str:
    """All twelve as ``<symbol id="tok-A">`` ..., for a page's ``<defs>``."""
    return "".join(
        f'<symbol id="tok-{letter}" viewBox="-1 -1 50 50">{_face(token, letter)}</symbol>'
        for letter, token in TOKENS.items()
    )


def _face(token: Token, label: str) -> str:
    """Shape, its edge and the label. The eyelet has a ring of its own; longer labels are set smaller."""
    ring = (
        '<circle cx="24" cy="24" r="17.5" fill="none" stroke="#fff" stroke-width="1.6"/>'
        if token.letter == "E"
        else ""
    )
    size = {1: 25, 2: 21, 3: 16}.get(len(label), 12)
    baseline = token.baseline - (25 - size) * 0.35
    edge = 2.6 if token.is_pale else 1
    return (
        f'<path d="{token.path}" fill="{token.fill}" stroke="{token.edge}" stroke-width="{edge}"'
        f' stroke-linejoin="round"/>{ring}<text x="24" y="{baseline:g}" text-anchor="middle" font-size="{size}"'
        f' font-family="{FACE}" font-weight="700" fill="{token.ink}">{escape(label)}</text>'
    )


def _card_width(label: str) -> int:
    return max(_SIDE, 20 + 15 * len(label))


def _card(label: str, width: int) -> str:
    path = f"M1 7H{width - 12}L{width - 1} 18V41H1Z"
    return (
        f'<path d="{path}" fill="{PALETTE["paper"]}" stroke="{PALETTE["ink"]}" stroke-width="2"/>'
        f'<text x="{width / 2:g}" y="31" text-anchor="middle" font-size="20" font-family="{FACE}" font-weight="700"'
        f' fill="{PALETTE["ink"]}">{escape(label)}</text>'
    )
