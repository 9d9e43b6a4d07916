"""Every command, option, error, wish and way has its line, and what the pages show can be read."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import typer
from click import Command

from benchmates.cli.main import app
from benchmates.core import errors
from benchmates.core.grouping.wishes import USUAL, read_wishes
from benchmates.core.lesson.reading import read_lesson
from benchmates.core.roster.reading.headings import FIELDS
from benchmates.core.strategy.catalogue import KEYS, read_way

REPO = Path(__file__).parents[2]
REFERENCE = REPO / "docs" / "reference"


def _commands(command: Command, path: tuple[str, ...] = ()) -> list[tuple[tuple[str, ...], Command]]:
    inner = getattr(command, "commands", {})
    return [(path, command), *(c for n, s in inner.items() for c in _commands(s, (*path, n)))]


def _page(name: str) -> str:
    return (REFERENCE / name).read_text(encoding="utf-8")


def _toml_after(heading: str) -> bytes:
    found = re.search(rf"^## {heading}$.*?^```toml\n(.*?)^```", _page("files.md"), re.M | re.S)
    assert found, f"no example under {heading}"
    return found[1].encode()


def test_every_command_and_option_has_its_line() -> None:
    page = _page("commands.md")
    commands = _commands(typer.main.get_command(app))
    named = [" ".join(("benchmates", *path)) for path, _ in commands]
    options = {
        o for _, c in commands for p in c.params for o in (*p.opts, *p.secondary_opts) if o[:2] == "--"
    }

    missing = [name for name in named if f"`{name}" not in page]
    missing += [option for option in sorted(options) if f"| `{option}" not in page]

    assert len(options) > 10, "the commands were not looked into"
    assert missing == []


def test_every_option_is_given_to_the_commands_that_have_it() -> None:
    page = _page("commands.md")
    told = dict(re.findall(r"^\| `(--[a-z]+)[^`]*` \| ([^|]+) \|", page, re.M))
    held: dict[str, set[str]] = {}
    for path, command in _commands(typer.main.get_command(app)):
        for parameter in command.params:
            for option in parameter.opts:
                if path and option[:2] == "--" and option != "--help":
                    held.setdefault(option, set()).add(" ".join(path))

    assert {option: set(told[option].split(", ")) for option in held} == held


def test_every_error_has_its_line() -> None:
    kinds = [k for k in vars(errors).values() if isinstance(k, type) and issubclass(k, errors.Trouble)]

    assert [k.__name__ for k in kinds if f"| `{k.__name__}` |" not in _page("errors.md")] == []


def test_every_wish_has_its_formula_and_its_usual_weight() -> None:
    page = (REPO / "docs" / "methods" / "wishes.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| `(\w+)` \| (\d+) \| .*weight", page, re.M))

    assert {wish: int(weight) for wish, weight in rows.items()} == USUAL


def test_every_way_is_listed_in_order() -> None:
    assert tuple(re.findall(r"^\| `([a-z-]+)` \|", _page("ways.md"), re.M)) == KEYS


def test_every_column_is_listed() -> None:
    section = _page("files.md").split("## Class list")[1].split("\n## ")[0]

    assert tuple(re.findall(r"^\| `(\w+)` \|", section, re.M)) == FIELDS


def test_examples_of_files_can_be_read() -> None:
    lesson = read_lesson(_toml_after("Lesson"), filename="docs/reference/files.md")
    wishes = read_wishes(_toml_after("Wishes"))

    assert lesson.way.key == "pairs-to-fours"
    assert lesson.way.stages[0].cards[0].word == "Strength"
    assert wishes.weight("attainment", "Fours") == 0
    assert set(tomllib.loads(_toml_after("Column map").decode())["columns"]) <= set(FIELDS)


def test_the_way_shown_as_an_example_can_be_read() -> None:
    page = (REPO / "docs" / "tasks" / "own-way.md").read_text(encoding="utf-8")
    block = re.search(r"^```toml\n(.*?)^```", page, re.M | re.S)
    assert block, "no example"

    assert [s.name for s in read_way(block[1].encode(), filename="own.toml").stages] == ["Threes", "Share"]
