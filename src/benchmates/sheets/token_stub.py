"""Group tokens as SVG text, until the drawing room's own are called here."""

from __future__ import annotations

import math
from xml.sax.saxutils import escape

from benchmates.core.terms import SHAPE_NAMES

INK, PAPER, WHITE = "#17231F", "#FFFEFB", "#FFFFFF"


def _cog() -> str:
    points = []
    for tooth in range(8):
        for step, radius in ((-0.30, 17), (-0.20, 22), (0.20, 22), (0.30, 17)):
            angle = (tooth + step) * math.pi / 4 - math.pi / 2
            points.append(f"{24 + radius * math.cos(angle):.1f} {24 + radius * math.sin(angle):.1f}")
    return "M" + "L".join(points) + "Z"


# Path on a 48 x 48 square, fill, letter colour, baseline. Dark and pale take turns: neighbours differ in grey too.
_SHAPES = {
    "A": ("M5 44V24A19 19 0 0 1 43 24V44Z", "#002E51", WHITE, 35),
    "B": ("M6 6H42V42H6Z", "#FFD55C", INK, 33),
    "C": (_cog(), "#512D13", WHITE, 32.5),
    "D": ("M13 6H35L46 43H2Z", "#B2DEFF", INK, 36),
    "E": ("M24 3A21 21 0 1 1 23.9 3Z", "#8349A7", WHITE, 32.5),
    "F": ("M3 7H45L36 24L45 41H3Z", "#EA9A89", INK, 33),
    "G": ("M24 2L45 20V44H3V20Z", "#346646", WHITE, 38),
    "H": ("M13 5H35L46 24L35 43H13L2 24Z", "#C7DD8C", INK, 33),
    "K": ("M24 1L44 21L24 47L4 21Z", "#36383C", WHITE, 31),
    "L": ("M4 4H24A20 20 0 0 1 44 24V44H24A20 20 0 0 1 4 24Z", "#C5B1D5", INK, 33),
    "M": ("M14 7H47L34 41H1Z", "#1E7180", WHITE, 33),
    "N": ("M3 6H13L24 17L35 6H45V44H3Z", PAPER, INK, 40),
}


def is_lettered(label: str) -> bool:
    """Whether a label is a letter with at most a number and a part ("A", "A12", "A1a"), and so has a shape."""
    rest = label[1:]
    return label[:1] in _SHAPES and (not rest or rest[0].isdigit() and len(rest) <= 3)


def spoken(label: str) -> str:
    """A label as it is said: "A Arch"; a label in words stays as it is."""
    return f"{label} {SHAPE_NAMES[label[0]]}" if is_lettered(label) else label


def token_svg(label: str) -> str:
    """One token; a label in words becomes an outlined card with a cut corner."""
    if is_lettered(label):
        width, inside = 48, _shape(label)
    else:
        width = max(48, 20 + 12 * len(label))
        inside = (
            f'<path d="M1 7H{width - 12}L{width - 1} 18V41H1Z" fill="{PAPER}" stroke="{INK}" stroke-width="2"/>'
            + _word(label, width / 2, 31, 20, INK)
        )
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 {width + 2} 50">{inside}</svg>'


def _shape(label: str) -> str:
    path, fill, ink, baseline = _SHAPES[label[0]]
    size = {1: 25, 2: 21, 3: 16}.get(len(label), 12)
    edge, stroke = (2.6, INK) if ink == INK else (1.0, fill)
    return (
        f'<path d="{path}" fill="{fill}" stroke="{stroke}" stroke-width="{edge}" stroke-linejoin="round"/>'
        + _word(label, 24, baseline - (25 - size) * 0.35, size, ink)
    )


def _word(text: str, x: float, y: float, size: int, ink: str) -> str:
    return (
        f'<text x="{x:g}" y="{y:g}" text-anchor="middle" font-size="{size}" font-weight="700" fill="{ink}"'
        f' font-family="Atkinson Hyperlegible">{escape(text)}</text>'
    )
