"""Contrast of every colour pair, against the formula of the W3C's WCAG 2.2 (definitions "contrast ratio" and
"relative luminance", written here a second time, from memory) and against the figures printed in our guide to the look.
"""

from __future__ import annotations

import pytest

from benchmates.drawing.palette import MARK_CONTRAST, PALETTE, TEXT_CONTRAST, WHITE, contrast
from benchmates.drawing.tokens import TOKENS

GROUNDS = ("paper", "wash", "board", "accent-pale")
# Our guide to the look, table "Palette".
PRINTED = {
    "ink": (16.06, 14.64, 12.53, 13.77),
    "ink-2": (7.88, 7.19, 6.15, 6.76),
    "line": (4.03, 3.67, 3.14, 3.45),
    "hair": (1.59, 1.45, 1.24, 1.37),
    "accent": (7.08, 6.45, 5.52, 6.07),
}
# Our guide to the look, table "Group tokens": letter on fill, edge on paper.
PRINTED_TOKENS = {
    "A": (13.9, 13.8), "B": (11.5, 16.1), "C": (12.1, 12.0), "D": (11.4, 16.1), "E": (6.0, 6.0), "F": (7.3, 16.1),
    "G": (6.7, 6.6), "H": (10.9, 16.1), "K": (11.7, 11.6), "L": (8.2, 16.1), "M": (5.6, 5.6), "N": (16.1, 16.1),
}  # fmt: skip


def wcag(one: str, other: str) -> float:
    """(L1 + 0.05) / (L2 + 0.05), L = 0.2126 R + 0.7152 G + 0.0722 B over channels taken out of their gamma."""

    def light(colour: str) -> float:
        total = 0.0
        for weight, pair in ((0.2126, colour[1:3]), (0.7152, colour[3:5]), (0.0722, colour[5:7])):
            share = int(pair, 16) / 255
            total += weight * (share / 12.92 if share <= 0.04045 else pow((share + 0.055) / 1.055, 2.4))
        return total

    bright, dark = max(light(one), light(other)), min(light(one), light(other))
    return (bright + 0.05) / (dark + 0.05)


def test_contrast_of_black_and_white_is_21() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)


@pytest.mark.parametrize("ink", PRINTED)
@pytest.mark.parametrize("column", range(4))
def test_contrast_agrees_with_the_formula_and_the_printed_figures(ink: str, column: int) -> None:
    pair = PALETTE[ink], PALETTE[GROUNDS[column]]

    assert contrast(*pair) == pytest.approx(wcag(*pair))
    assert contrast(*pair) == pytest.approx(PRINTED[ink][column], abs=0.005)


@pytest.mark.parametrize("ink", ["ink", "ink-2", "accent"])
@pytest.mark.parametrize("ground", GROUNDS)
def test_words_can_be_read_on_every_ground(ink: str, ground: str) -> None:
    assert wcag(PALETTE[ink], PALETTE[ground]) >= TEXT_CONTRAST


@pytest.mark.parametrize("ground", GROUNDS)
def test_edges_of_controls_stand_out_on_every_ground(ground: str) -> None:
    assert wcag(PALETTE["line"], PALETTE[ground]) >= MARK_CONTRAST


@pytest.mark.parametrize(("ground", "printed"), [("ink", 16.06), ("accent", 7.08)])
def test_paper_on_ink_and_on_accent(ground: str, printed: float) -> None:
    assert wcag(PALETTE["paper"], PALETTE[ground]) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize("letter", PRINTED_TOKENS)
def test_token_letter_and_edge_stand_out(letter: str) -> None:
    token = TOKENS[letter]
    on_fill, on_paper = PRINTED_TOKENS[letter]

    assert wcag(token.ink, token.fill) == pytest.approx(on_fill, abs=0.051)
    assert wcag(token.edge, PALETTE["paper"]) == pytest.approx(on_paper, abs=0.051)
    assert wcag(token.ink, token.fill) >= TEXT_CONTRAST
    assert token.is_pale is (token.ink != WHITE)
