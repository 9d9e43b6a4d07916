"""Opening the files that a command names."""

from __future__ import annotations

import difflib
import sys
from pathlib import Path

from benchmates.cli.exits import unreadable
from benchmates.core.terms import joined

STDIN = "-"


def bytes_of(path: Path | str) -> bytes:
    """The bytes of a file, or of what was pasted when the name is ``-``."""
    if str(path) == STDIN:
        return sys.stdin.buffer.read()
    try:
        return Path(path).read_bytes()
    except FileNotFoundError:
        raise unreadable(
            str(path), "there is no such file", f"Check the name{_near_file(Path(path))}."
        ) from None
    except IsADirectoryError:
        raise unreadable(str(path), "this is a folder", "Name a file in it.") from None
    except (OSError, ValueError) as trouble:
        raise unreadable(
            str(path), f"it cannot be opened ({trouble})", "Check that you may open it."
        ) from None


def _near_file(path: Path) -> str:
    try:
        names = [p.name for p in path.parent.iterdir()]
    except OSError:
        return ""
    near = difflib.get_close_matches(path.name, names, n=3)
    return f"; near it {'are' if len(near) > 1 else 'is'} {joined(near)}" if near else ""
