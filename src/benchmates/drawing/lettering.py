"""How wide words stand on the sheet, so that labels can be placed where they do not touch.

Widths are those of DejaVu Sans, the widest face on our list: what fits in it fits in every other.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

FACE = "'Atkinson Hyperlegible', 'Segoe UI', 'Noto Sans', 'DejaVu Sans', sans-serif"

# Advance widths of U+0020 to U+007E in thousandths of the size, measured in a browser.
_PLAIN = (
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656,
    557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613,
    635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818,
    592, 592, 525, 636, 337, 636, 838,
)  # fmt: skip
_BOLD = (
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696, 696,
    696, 696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775,
    637, 995, 837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500, 500, 675,
    716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595, 478, 712, 652, 924,
    645, 652, 582, 712, 365, 712, 838,
)  # fmt: skip


@lru_cache(maxsize=4096)
def width(words: str, size: float, *, bold: bool = False) -> float:
    """Width of a line of words in px; letters of other scripts count as a full square."""
    table = _BOLD if bold else _PLAIN
    return sum(_advance(letter, table) for letter in unicodedata.normalize("NFD", words)) * size / 1000


def wrapped(words: str, size: float, room: float, *, bold: bool = False) -> list[str]:
    """Words on as few lines as keep within ``room``; a single longer word stands on a line of its own."""
    lines: list[str] = []
    for word in words.split(" "):  # a no-break space holds
        if lines and width(f"{lines[-1]} {word}", size, bold=bold) <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


def squeezed(words: str, size: float, room: float, *, bold: bool = False) -> str:
    """The attribute that draws words together when they are wider than their room; mostly empty."""
    if width(words, size, bold=bold) <= room:
        return ""
    return f' textLength="{room:.0f}" lengthAdjust="spacingAndGlyphs"'


def _advance(letter: str, table: tuple[int, ...]) -> int:
    if unicodedata.combining(letter):
        return 0
    place = 0 if letter == "\u00a0" else ord(letter) - 32
    return table[place] if 0 <= place < len(table) else 1000
