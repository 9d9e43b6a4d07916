"""Tokens: letter, shape and colour together. The twelve letters and shapes are our own; no outside source."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from benchmates.core.terms import SHAPE_NAMES, TOKEN_LETTERS
from benchmates.drawing.ink import definitions
from benchmates.drawing.tokens import TOKENS, spoken, token_of, token_svg

SVG = "{http://www.w3.org/2000/svg}"


def test_twelve_tokens_differ_in_letter_shape_and_fill() -> None:
    assert "".join(TOKENS) == TOKEN_LETTERS
    assert [t.shape for t in TOKENS.values()] == [SHAPE_NAMES[letter] for letter in TOKENS]
    assert len({t.path for t in TOKENS.values()}) == len({t.fill for t in TOKENS.values()}) == 12


@pytest.mark.parametrize("label", ["A", "A1", "A1a", "B2", "N12"])
def test_token_shows_the_whole_label_and_the_shape_of_its_letter(label: str) -> None:
    drawn = ElementTree.fromstring(token_svg(label))

    assert drawn.findtext(f"{SVG}text") == label
    assert drawn.find(f"{SVG}path").attrib["d"] == TOKENS[label[0]].path  # type: ignore[union-attr]
    assert drawn.attrib["aria-label"] == spoken(label)


@pytest.mark.parametrize("label", ["Fit", "Fit 1", "Inner ring", "J", "a", "A & B"])
def test_label_in_words_becomes_a_card_without_a_letter_shape(label: str) -> None:
    drawn = ElementTree.fromstring(token_svg(label, size=40))

    assert token_of(label) is None
    assert drawn.findtext(f"{SVG}text") == label
    assert drawn.find(f"{SVG}path").attrib["d"] not in {t.path for t in TOKENS.values()}  # type: ignore[union-attr]


def test_shape_name_begins_with_its_letter() -> None:
    assert all(t.shape[0] == letter for letter, t in TOKENS.items())


def test_definitions_hold_every_symbol_and_hatch_once() -> None:
    ids = [e.attrib["id"] for e in ElementTree.fromstring(definitions()).iter() if "id" in e.attrib]

    assert ids == [*(f"tok-{letter}" for letter in TOKENS), "h-fixed", "h-move"]
