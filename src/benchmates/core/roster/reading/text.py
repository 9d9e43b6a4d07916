"""Text files and pasted text: which encoding, which separator, which rows."""

from __future__ import annotations

import codecs
import csv
import io
import re

from benchmates.core.errors import Fault

SEPARATORS = (",", "\t", ";", "|")
_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)  # fmt: skip
_NOT_TEXT = re.compile("[\x00-\x08\x0e-\x1a]")


def decoded(data: bytes, *, filename: str) -> tuple[str, tuple[str, ...]] | Fault:
    """The text and what should be told about it, or the fault.

    A byte-order mark decides; without one, UTF-8, then UTF-16 by its zero bytes, then Windows-1252, in which
    western European spreadsheets still save.
    """
    not_text = Fault(
        filename, "the file is not text a list could be read from", "Save it again as .csv or .xlsx."
    )
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            text = _tried(data[len(mark) :], encoding)
            return not_text if text is None else (text, ())
    text = _tried(data, _guess(data))
    if text is not None:
        return not_text if _binary(text) else (text, ())
    text = _tried(data, "cp1252")
    if text is None or _binary(text):
        return not_text
    return text, ("The file is in an older Windows encoding: look at the accents in the names.",)


def _guess(data: bytes) -> str:
    if len(data) > 3 and len(data) % 2 == 0:
        even, odd = data[0::2].count(0), data[1::2].count(0)
        if odd > len(data) // 5 and not even:
            return "utf-16-le"
        if even > len(data) // 5 and not odd:
            return "utf-16-be"
    return "utf-8"


def _tried(data: bytes, encoding: str) -> str | None:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError:
        return None


def _binary(text: str) -> bool:
    # One stray control character is a slip of some export; many are a file that is no text at all.
    return len(_NOT_TEXT.findall(text)) > max(3, len(text) // 100)


def lines(text: str) -> list[str]:
    """The lines of a text whichever system wrote them."""
    return re.split(r"\r\n|\r|\n", text)


def stated_separator(text: str) -> str | None:
    """The separator of a first line "sep=;", which some spreadsheets write."""
    stated = re.fullmatch(r'"?sep=(.)"?', lines(text)[0].strip(" ,;"), flags=re.IGNORECASE) if text else None
    if stated is None and re.match(r"sep=[,;\t|]\s*(\r|\n|$)", text, flags=re.IGNORECASE):
        return text[4]
    return stated.group(1) if stated else None


def split(text: str, separator: str) -> list[list[str]] | Fault:
    """Every row of the text, blank ones too, so that the k-th is the teacher's row k."""
    rows: list[list[str]] = []
    strict = csv.reader(
        io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True, strict=True
    )
    loose = csv.reader(io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True)
    try:
        rows.extend(loose)
        for _ in strict:
            pass
    except csv.Error as error:
        if "unexpected end" in str(error):
            where = f"row {len(rows)}"
            return Fault(
                where, 'a quotation mark (") is opened and never closed', "Close it or take it away."
            )
        if "field larger" in str(error):
            where = f"row {len(rows) + 1}"
            return Fault(where, "a cell is longer than a whole list", "Save it again as .csv or .xlsx.")
        # Anything else strict reading minds (a quotation mark inside a name) loose reading takes as written.
    return rows
