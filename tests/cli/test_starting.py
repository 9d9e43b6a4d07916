"""What starting the command costs, and what it says of itself."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.cli.conftest import ROOT, Run

HEAVY = {"django", "numba", "numpy", "scipy", "typst", "python_calamine", "xlsxwriter", "statsmodels"}


@pytest.mark.parametrize("words", [["--help"], ["ways"], ["ways", "show", "jigsaw"], ["group", "--help"]])
def test_nothing_heavy_is_loaded_before_it_is_needed(words: list[str]) -> None:
    program = (
        "import sys\n"
        "from benchmates.cli.main import main\n"
        f"sys.argv = ['benchmates', *{words!r}]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "print(*sorted({m.split('.')[0] for m in sys.modules}), file=sys.stderr)\n"
    )
    command = [sys.executable, "-c", program]
    environment = {"PYTHONPATH": str(ROOT / "src")}
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True, env=environment)
    assert done.stdout
    assert HEAVY & set(done.stderr.split()) == set()


def test_help_names_every_command_and_fits_80_columns(run_apart: Run) -> None:
    ending = run_apart("--help", environment={"COLUMNS": "80"})
    assert ending.code == 0
    for command in ("group", "check", "sheets", "ways"):
        assert f"\n  {command} " in ending.out
    assert max(map(len, ending.out.splitlines())) <= 80


@pytest.mark.parametrize(
    "words",
    [
        ["grouping"],
        ["group"],
        ["group", "names.txt", "--sise", "4"],
        ["group", "names.txt", "--size", "four"],
        ["group", "names.txt", "--size", "0"],
        ["ways", "shown"],
        ["sheets", "plan.json", "names.txt", "--paper", "a3"],
    ],
)
def test_bad_usage_ends_in_2_with_nothing_on_the_standard_output(run: Run, words: list[str]) -> None:
    ending = run(*words)
    assert (ending.code, ending.out) == (2, "")
    assert ending.err


def test_usage_names_the_command_however_it_was_started() -> None:
    """The launcher in the environment starts Python with -c; a teacher never typed that."""
    program = "import sys; from benchmates.cli.main import main; sys.exit(main())"
    done = subprocess.run(
        [sys.executable, "-c", program, "group", "--nonsense"],
        capture_output=True, text=True, timeout=60, check=False, env={"PYTHONPATH": str(ROOT / "src")},
    )  # fmt: skip
    assert done.returncode == 2
    assert "Usage: benchmates group" in done.stderr and "-c group" not in done.stderr
