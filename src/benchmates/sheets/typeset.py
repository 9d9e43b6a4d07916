"""Sets a sheet: a template and its plain data in, the bytes of a tagged PDF out. Nothing else imports typst."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, cast

import typst

from benchmates.sheets.fonts import FAMILIES, folders

TEMPLATES = Path(__file__).parent / "templates"
# Accessible PDF (ISO 14289-1): tagged, with title and language, and no letter that no font can draw.
_STANDARD: list[Any] = ["ua-1"]
# One moment for every sheet, so that equal input gives equal bytes.
_MOMENT = 946684800  # 1 January 2000
_TRIAL = b"""#set document(title: "Trial")
#set text(lang: "en", font: json(bytes(sys.inputs.fonts)))
#for text in json(bytes(sys.inputs.texts)) [#text\\ ]
"""


@cache
def _fonts() -> typst.Fonts:
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(folder) for folder in folders()],
    )


@cache
def _compiler() -> typst.Compiler:
    return typst.Compiler(root=str(TEMPLATES), font_paths=_fonts(), ignore_system_fonts=True)


def typeset(template: str, data: Mapping[str, object]) -> bytes:
    """The PDF of a template filled with plain data; equal data gives equal bytes."""
    return _compile(
        TEMPLATES / f"{template}.typ", {"sheet": json.dumps(data, ensure_ascii=False, sort_keys=True)}
    )


def letters_missing(texts: Iterable[str]) -> frozenset[str]:
    """The characters of these texts that no font of ours can draw, found by setting them on trial."""
    doubtful = sorted({text for text in texts if not _plain(text)})
    return frozenset(letter for text in _failing(doubtful) for letter in _missing_of(text))


def _plain(text: str) -> bool:
    return text.isascii() and text.isprintable()


def _failing(texts: list[str]) -> list[str]:
    """Halves what fails until it is known text by text."""
    if not texts or _can_set(texts):
        return []
    if len(texts) == 1:
        return texts
    middle = len(texts) // 2
    return _failing(texts[:middle]) + _failing(texts[middle:])


def _missing_of(text: str) -> set[str]:
    letters = {letter for letter in text if not _plain(letter)}
    # Letters that fail only together are all given up: a mark where a name was is better than no sheet.
    return {letter for letter in letters if not _can_set([letter])} or letters


def _can_set(texts: list[str]) -> bool:
    try:
        _compile(_TRIAL, {"texts": json.dumps(texts)})
    except typst.TypstError:
        return False
    return True


def _compile(source: bytes | Path, inputs: dict[str, str]) -> bytes:
    # To the compiler bytes are the source itself and a text is the path of one.
    given: Any = source if isinstance(source, bytes) else str(source)
    sys_inputs = {**inputs, "fonts": json.dumps(FAMILIES)}
    pdf = _compiler().compile(input=given, pdf_standards=_STANDARD, timestamp=_MOMENT, sys_inputs=sys_inputs)
    return cast(bytes, pdf)
