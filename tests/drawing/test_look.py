"""The style sheets say what the drawings say, and nothing is asked of any other machine."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import benchmates
from benchmates.drawing.ink import rules
from benchmates.drawing.palette import PALETTE
from benchmates.drawing.tokens import TOKENS

LOOK = Path(benchmates.__file__).parent / "web/site/static/site"
SHEETS = re.findall(r'@import "([a-z]+\.css)"', (LOOK / "look.css").read_text("utf-8"))


def test_colours_of_the_page_are_those_of_the_palette() -> None:
    root = re.search(r":root \{(.*?)\}", (LOOK / "tokens.css").read_text("utf-8"), re.S)
    assert root is not None

    assert dict(re.findall(r"--([a-z0-9-]+): (#[0-9A-Fa-f]{6});", root[1])) == dict(PALETTE)


def test_weights_of_threads_on_the_page_are_those_of_drawings_that_stand_alone() -> None:
    assert rules(lambda name: f"var(--{name})") in (LOOK / "threads.css").read_text("utf-8")
    assert "{" + "ink}" not in rules() and PALETTE["accent"] in rules()


def test_every_sheet_the_look_is_made_of_is_there() -> None:
    assert {"tokens.css", "sheet.css", "threads.css", "board.css", "print.css"} <= set(SHEETS)
    assert all((LOOK / sheet).is_file() for sheet in SHEETS)


@pytest.mark.parametrize("sheet", SHEETS)
def test_sheet_is_whole_and_asks_no_other_machine(sheet: str) -> None:
    words = re.sub(r"/\*.*?\*/", "", (LOOK / sheet).read_text("utf-8"), flags=re.S)

    assert words.count("{") == words.count("}") > 0
    assert all(place.startswith("/font/") for place in re.findall(r'url\("([^"]+)"\)', words))


@pytest.mark.parametrize("sheet", [s for s in SHEETS if s != "print.css"])
def test_no_colour_outside_the_palette_on_screen(sheet: str) -> None:
    known = {c.upper() for c in PALETTE.values()} | {t.fill.upper() for t in TOKENS.values()}
    known.add("#6B7772")  # guide lines where more contrast is asked for

    assert {c.upper() for c in re.findall(r"#[0-9A-Fa-f]{6}\b", (LOOK / sheet).read_text("utf-8"))} <= known
