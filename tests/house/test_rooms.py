"""Folders, layers and modules: the house stands as pyproject.toml draws it."""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib

import pytest

from tests.house.tree import PACKAGE, ROOT, kept, parsed, place

MOST_LINES = 400
LIGHT_ROOMS = ("errors", "terms", "roster", "strategy", "lesson")
HEAVY = ("django", "numba", "numpy", "scipy", "typst")


def contracts() -> list[dict[str, object]]:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    found: list[dict[str, object]] = tomllib.loads(text)["tool"]["importlinter"]["contracts"]
    return found


def layers_that_name(room: str) -> list[str]:
    """The one order of layers that holds this room, brackets and bars taken away."""
    for contract in contracts():
        named = [part.strip(" ()") for layer in contract.get("layers", ()) for part in str(layer).split("|")]
        if room in named:
            return named
    raise AssertionError(f"no order of layers names {room}")


def rooms_in(folder: str) -> list[str]:
    """The modules and packages that stand in a folder of the package."""
    base = PACKAGE / folder
    modules = {file.stem for file in base.glob("*.py")}
    packages = {file.parent.name for file in base.glob("*/*.py")}
    return sorted((modules | packages) - {"__init__", "__main__"})


@pytest.mark.parametrize(
    ("folder", "known"), [("", "core"), ("core", "roster"), ("web", "benchmates.web.people")]
)
def test_every_room_has_its_place_in_the_order(folder: str, known: str) -> None:
    named = [layer.split(".")[-1] for layer in layers_that_name(known)]

    assert [room for room in rooms_in(folder) if room not in named] == []


def test_rooms_of_the_core_stand_in_lesson_order() -> None:
    # The order of design and handbook: who is there, how, what, with whom, what happened, what was seen, what it says.
    lesson = ["roster", "strategy", "lesson", "grouping", "run", "evidence", "findings", "reflection"]

    assert [room for room in reversed(layers_that_name("roster")) if room in lesson] == lesson


def test_modules_keep_under_one_roof() -> None:
    # Tests may run on: a long list of examples is one idea.
    modules = [ROOT / "go.py", *kept(".py", under=ROOT / "src"), *kept(".py", under=ROOT / "benchmarks")]
    lengths = {place(file): len(file.read_text(encoding="utf-8").splitlines()) for file in modules}

    assert {name: lines for name, lines in lengths.items() if lines > MOST_LINES} == {}
    assert len(lengths) > 10


def test_no_module_is_a_drawer() -> None:
    drawers = {"utils", "util", "helpers", "helper", "common", "manager", "managers", "misc"}

    assert [place(file) for file in kept(".py") if {file.stem, file.parent.name} & drawers] == []


def test_public_names_of_the_core_say_what_they_answer() -> None:
    silent = [
        f"{place(file)}: {node.name}"
        for file in kept(".py", under=PACKAGE / "core")
        for node in parsed(file).body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]

    assert silent == []


def test_light_rooms_load_without_heavy_imports() -> None:
    modules = [
        "benchmates." + ".".join(file.relative_to(PACKAGE).with_suffix("").parts).removesuffix(".__init__")
        for room in LIGHT_ROOMS
        for file in kept(".py", under=PACKAGE / "core")
        if file.relative_to(PACKAGE / "core").with_suffix("").parts[0] == room
    ]
    question = f"import sys\nfor name in {modules!r}: __import__(name)"
    answer = f"print(*sorted(set(sys.modules) & set({HEAVY!r})))"

    told = subprocess.run(
        [
            sys.executable,
            "-c",
            f"import sys; sys.path.insert(0, {str(ROOT / 'src')!r})\n{question}\n{answer}",
        ],
        capture_output=True,
        text=True,
        check=False,
    )

    assert (told.returncode, told.stdout.split(), told.stderr) == (0, [], "")
    assert len(modules) > 5
