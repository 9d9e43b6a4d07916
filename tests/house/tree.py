"""The files of the project as the tests of the house see them."""

from __future__ import annotations

import ast
import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src/benchmates"


@cache
def kept_files() -> tuple[Path, ...]:
    """Every file that is, or would be, committed; a copy without git is walked instead."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if listed.returncode == 0 and listed.stdout:
        found = [ROOT / name for name in listed.stdout.split("\0") if name]
    else:
        inside = ((file, file.relative_to(ROOT).parts) for file in ROOT.rglob("*"))
        found = [file for file, parts in inside if not any(part.startswith(".") for part in parts)]
    return tuple(sorted(file for file in found if file.is_file()))


def kept(*suffixes: str, under: Path = ROOT) -> list[Path]:
    """The kept files with one of these endings, below a folder."""
    return [file for file in kept_files() if file.suffix in suffixes and file.is_relative_to(under)]


def text_of(file: Path) -> str | None:
    """The text of a file; None for a picture, a font or a spoiled class list."""
    try:
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None


def place(file: Path) -> str:
    """A file's name as a reader would look it up."""
    return file.relative_to(ROOT).as_posix()


def parsed(file: Path) -> ast.Module:
    """The syntax of a module."""
    return ast.parse(file.read_text(encoding="utf-8"), filename=str(file))
