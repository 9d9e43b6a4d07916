"""What a file is, told from its first bytes: the ending of its name is only a claim."""

from __future__ import annotations

import io
import zipfile
from enum import Enum

from benchmates.core.errors import Fault

MOST_BYTES = 20_000_000
MOST_TEXT = 4_000_000  # 400 pupils of ten thousand characters each
MOST_UNPACKED = 200_000_000  # a list of 400 pupils unpacks to well under a megabyte

SAVE_AS = "Save the list as .csv, .xlsx or .ods and choose that file."

_PICTURE = "a picture"
_FIRST_BYTES = (
    (b"\x89PNG\r\n\x1a\n", _PICTURE + " (PNG)"),
    (b"\xff\xd8\xff", _PICTURE + " (JPEG)"),
    (b"GIF87a", _PICTURE + " (GIF)"),
    (b"GIF89a", _PICTURE + " (GIF)"),
    (b"II*\x00", _PICTURE + " (TIFF)"),
    (b"MM\x00*", _PICTURE + " (TIFF)"),
    (b"%PDF-", "a PDF"),
    (b"{\\rtf", "a rich text document (RTF)"),
    (b"\x1f\x8b", "a packed file (gzip)"),
    (b"7z\xbc\xaf\x27\x1c", "a packed file (7z)"),
    (b"Rar!", "a packed file (RAR)"),
    (b"SQLite format 3\x00", "a database"),
)  # fmt: skip
_WEB_PAGE = (b"<!doctype html", b"<html", b"<table")
_OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


class Content(Enum):
    """What the readers can open."""

    TEXT = "text"
    WORKBOOK = "workbook"


def content_of(data: bytes, *, filename: str) -> Content | Fault:
    """What the bytes are, or the fault that names what they are instead."""
    if not data.strip(b"\x00 \t\r\n\xef\xbb\xbf\xff\xfe"):
        return Fault(filename, "the file is empty", "Choose a list with at least one name in it.")
    if len(data) > MOST_BYTES:
        return Fault(
            filename, f"the file is over {MOST_BYTES // 1_000_000} MB", "Choose the list of one class."
        )
    if data.startswith(b"PK"):
        return _packed(data, filename)
    if data.startswith(_OLD_OFFICE):
        return _old_office(data, filename)
    named = _named(data)
    if named:
        return Fault(filename, f"the file is {named}, not a list", SAVE_AS)
    if len(data) > MOST_TEXT:
        return Fault(
            filename, f"the text is over {MOST_TEXT // 1_000_000} MB", "Choose the list of one class."
        )
    return Content.TEXT


def _named(data: bytes) -> str | None:
    for start, name in _FIRST_BYTES:
        if data.startswith(start):
            return name
    # "BM" alone could begin a name: a bitmap also carries four zero bytes there.
    if (data[:2] == b"BM" and data[6:10] == b"\x00" * 4) or (data[:4] == b"RIFF" and data[8:12] == b"WEBP"):
        return _PICTURE
    if data.lstrip(b"\xef\xbb\xbf \t\r\n")[:15].lower().startswith(_WEB_PAGE):
        return "a web page (some registers save these as .xls)"
    return None


def _packed(data: bytes, filename: str) -> Content | Fault:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            names = set(parts.namelist())
            unpacked = sum(part.file_size for part in parts.infolist())
            kind = parts.read("mimetype")[:200] if "mimetype" in names else b""
    except Exception:  # noqa: BLE001 - zipfile answers damage with many kinds of error, all one to a teacher
        return Fault(
            filename, "the workbook is damaged or cut short", "Open it, save it again and choose that file."
        )
    if unpacked > MOST_UNPACKED:
        return Fault(
            filename, "the workbook is far too large for a class list", "Copy the list to a new workbook."
        )
    if "xl/workbook.xml" in names or b"opendocument.spreadsheet" in kind:
        return Content.WORKBOOK
    return Fault(filename, f"the file is {_packed_name(names, kind)}, not a list", SAVE_AS)


def _packed_name(names: set[str], kind: bytes) -> str:
    if "word/document.xml" in names or b"opendocument.text" in kind:
        return "a text document"
    if "ppt/presentation.xml" in names or b"opendocument.presentation" in kind:
        return "a presentation"
    if "xl/workbook.bin" in names:
        return "a binary workbook (.xlsb)"
    return "a packed file (zip)"


def _old_office(data: bytes, filename: str) -> Fault:
    if "EncryptedPackage".encode("utf-16-le") in data:
        return Fault(
            filename, "the workbook is locked with a password", "Take the password off and save it again."
        )
    return Fault(filename, "the file is an old .xls workbook or another old office file", SAVE_AS)
