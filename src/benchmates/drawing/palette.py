"""The colours of every page and sheet, and the arithmetic that says whether they can be read."""

from __future__ import annotations

from types import MappingProxyType

PALETTE = MappingProxyType(
    {
        "paper": "#FFFEFB",
        "wash": "#F3F4EE",
        "board": "#DFE4DA",
        "ink": "#17231F",
        "ink-2": "#46544F",
        "line": "#74817B",
        "hair": "#C6CEC8",
        "accent": "#AD1145",
        "accent-pale": "#FBE8EC",
    }
)
WHITE = "#FFFFFF"

# Least contrast, WCAG 2.2: 1.4.3 for text, 1.4.11 and large text for the rest.
TEXT_CONTRAST = 4.5
MARK_CONTRAST = 3.0


def luminance(colour: str) -> float:
    """Relative luminance of a colour written #RRGGBB, 0 (black) to 1 (white), by WCAG 2.2."""
    red, green, blue = (_linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 (equal) to 21 (black on white), by WCAG 2.2; the order does not matter."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
