"""Where the fonts lie, and in which order they are asked for a letter."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

# The packages carry font files and no code.
_FOLDERS = (("fontpkg_atkinson_hyperlegible", "files"), ("manimgx_fonts", ""), ("noto_cjk_sans_otc", ""))

# Every family by name and in one order: left to itself the typesetter falls back in the order of the disk.
_SCRIPTS = (
    "Arabic", "Armenian", "Bengali", "Devanagari", "Ethiopic", "Georgian", "Gujarati", "Gurmukhi", "Hebrew", "Kannada",
    "Khmer", "Lao", "Malayalam", "Myanmar", "Oriya", "Sinhala", "Tamil", "Telugu", "Thai",
)  # fmt: skip
FAMILIES = (
    "Atkinson Hyperlegible",
    "Noto Sans",
    *(f"Noto Sans {script}" for script in _SCRIPTS),
    "Noto Sans CJK SC",
    "Noto Sans CJK JP",
    "Noto Sans CJK KR",
    "Noto Sans Symbols",
    "Noto Emoji",
)


def folders() -> tuple[Path, ...]:
    """The folders that hold the font files."""
    return tuple(
        Path(str(files(package) / inside if inside else files(package))) for package, inside in _FOLDERS
    )
