"""One cell: cleaning what cannot be seen, and keeping a spreadsheet from running what should be read."""

from __future__ import annotations

import re
import unicodedata

LONGEST = 80  # characters; longer is a sentence that slipped into the wrong column

_GUARDED = re.compile(r"'+[=+\-@]")
_RISKY = re.compile(r"'*[=+\-@]")
_PLAIN_NUMBER = re.compile(r"-[0-9]+(\.[0-9]+)?")
_WHOLE = re.compile(r"[+-]?[0-9]{1,9}(\.0+)?")
_JOINERS = "\u200c\u200d"
_FIRST_JOINING_SCRIPT = "\u0600"  # Arabic; every script whose spelling needs a joiner comes after it


def cleaned(text: str) -> str:
    """The text as seen: NFC, single plain spaces, no control or invisible characters.

    A zero-width joiner or non-joiner stays between two letters of a script that spells with it (Persian,
    Sinhala, the scripts of India); anywhere else it is debris and goes.
    """
    if text.isascii() and text.isprintable():
        return " ".join(text.split())
    kept = [_seen(text, k) for k in range(len(text))]
    return " ".join(unicodedata.normalize("NFC", "".join(kept)).split())


def _seen(text: str, at: int) -> str:
    character = text[at]
    if character.isspace():
        return " "
    if character in _JOINERS:
        return character if _spells_with_joiner(text, at) else ""
    if unicodedata.category(character) in ("Cc", "Cf", "Cs") or ord(character) & 0xFFFE == 0xFFFE:
        return ""
    return character


def _spells_with_joiner(text: str, at: int) -> bool:
    return 0 < at < len(text) - 1 and all(
        c >= _FIRST_JOINING_SCRIPT and unicodedata.category(c)[0] in "LM"
        for c in (text[at - 1], text[at + 1])
    )


def is_formula(text: str) -> bool:
    """Whether a cell of a text file would be run, not shown, by a spreadsheet."""
    return text.startswith("=")


def guarded(text: str) -> str:
    """The text with an apostrophe before what a spreadsheet might run; negative numbers need none."""
    return f"'{text}" if _RISKY.match(text) and not _PLAIN_NUMBER.fullmatch(text) else text


def unguarded(text: str) -> str:
    """The text ``guarded`` was given: one apostrophe goes, and only before ``= + - @``."""
    return text[1:] if _GUARDED.match(text) else text


def whole_number(text: str) -> int | None:
    """The whole number a cell holds, "7.0" being 7; ``None`` if it holds anything else."""
    return int(text.split(".")[0]) if _WHOLE.fullmatch(text) else None


def without_point_zero(text: str) -> str:
    """Read "7.0" as "7": spreadsheets keep a year or a bench as a number."""
    return text.split(".")[0] if re.fullmatch(r"[0-9]+\.0+", text) else text
