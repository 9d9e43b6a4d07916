"""The installed font packages, and which characters they can print."""

from __future__ import annotations

import struct
import unicodedata
from dataclasses import dataclass
from functools import cache
from importlib import metadata
from pathlib import Path

_ENDINGS = {".ttf", ".otf", ".ttc", ".otc"}
_PACKAGES = ("fontpkg-", "manimgx-fonts", "noto-cjk-")


@cache
def font_files() -> tuple[Path, ...]:
    """Every font file that an installed font package holds, in one order on every machine."""
    found: set[Path] = set()
    for package in metadata.distributions():
        if (package.metadata["Name"] or "").lower().replace("_", "-").startswith(_PACKAGES):
            files = (Path(str(f.locate())) for f in package.files or ())
            found.update(f for f in files if f.suffix.lower() in _ENDINGS and f.exists())
    return tuple(sorted(found, key=lambda f: f.name))


@cache
def printable() -> frozenset[int]:
    """The code points for which some font has a glyph."""
    return frozenset().union(*(_code_points(f) for f in font_files()))


@dataclass(frozen=True)
class Printed:
    """A name as it goes on paper; ``notice`` says what had to be done to it, or is empty."""

    text: str
    notice: str = ""


def as_printed(name: str) -> Printed:
    """A name with every character that no font can print written as its code point, and a notice of it."""
    clean = unicodedata.normalize("NFC", name)
    missing = [c for c in clean if not _prints(c)]
    if not missing:
        return Printed(clean)
    codes = [f"U+{ord(c):04X}" for c in dict.fromkeys(missing)]
    text = "".join(c if _prints(c) else f"[U+{ord(c):04X}]" for c in clean)
    return Printed(text, f"No installed font can print {', '.join(codes)}: the sheets show {text}.")


def _prints(character: str) -> bool:
    # Spaces, joiners and variation selectors leave no mark of their own.
    if character.isspace() or unicodedata.category(character) == "Cf" or 0xFE00 <= ord(character) <= 0xFE0F:
        return True
    return ord(character) in printable()


def _code_points(file: Path) -> set[int]:
    """Read the ``cmap`` tables, formats 4 and 12 (OpenType 1.9, "cmap")."""
    data = file.read_bytes()
    starts = [0]
    if data[:4] == b"ttcf":
        starts = list(struct.unpack_from(f">{struct.unpack_from('>I', data, 8)[0]}I", data, 12))
    points: set[int] = set()
    for start in starts[:1]:  # the fonts of one collection share their characters
        for table in range(struct.unpack_from(">H", data, start + 4)[0]):
            tag, _, offset, _ = struct.unpack_from(">4sIII", data, start + 12 + 16 * table)
            if tag == b"cmap":
                for record in range(struct.unpack_from(">H", data, offset + 2)[0]):
                    at = offset + struct.unpack_from(">I", data, offset + 8 + 8 * record)[0]
                    points |= _subtable(data, at)
    return points


def _subtable(data: bytes, at: int) -> set[int]:
    form = struct.unpack_from(">H", data, at)[0]
    points: set[int] = set()
    if form == 12:
        for group in range(struct.unpack_from(">I", data, at + 12)[0]):
            first, last, glyph = struct.unpack_from(">III", data, at + 16 + 12 * group)
            points.update(range(first + (glyph == 0), last + 1))
    elif form == 4:
        twice = struct.unpack_from(">H", data, at + 6)[0]
        count = twice // 2
        ends = struct.unpack_from(f">{count}H", data, at + 14)
        begins = struct.unpack_from(f">{count}H", data, at + 16 + twice)
        deltas = struct.unpack_from(f">{count}H", data, at + 16 + 2 * twice)
        ranges_at = at + 16 + 3 * twice
        ranges = struct.unpack_from(f">{count}H", data, ranges_at)
        for i, (begin, end, delta, reach) in enumerate(zip(begins, ends, deltas, ranges, strict=True)):
            for code in range(begin, min(end, 0xFFFE) + 1):
                glyph = code + delta
                if reach:
                    glyph = struct.unpack_from(">H", data, ranges_at + 2 * i + reach + 2 * (code - begin))[0]
                if glyph & 0xFFFF:
                    points.add(code)
    return points
