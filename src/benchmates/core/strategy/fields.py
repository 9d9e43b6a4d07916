"""Reading a file of ours key by key, so that every fault is found in one go.

A :class:`Fields` holds one table of the file. Each call takes one key out and returns its value; what is missing or
of the wrong kind becomes a fault, and a stand-in is returned so that reading can go on. ``leftover`` reports the keys
nobody asked for.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import difflib
import math
import re
import tomllib
from collections.abc import Iterable

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.strategy.way import Size
from benchmates.core.terms import Span

FORMAT = 1
LONGEST_FILE = 1_000_000
Table = dict[str, object]


def near(word: str, words: Iterable[str]) -> str:
    """Name the likely word, or list them all: what a fault says would do."""
    known = list(words)
    close = difflib.get_close_matches(word.lower(), known, n=1, cutoff=0.6)
    return f'Did you mean "{close[0]}"?' if close else f"Use one of: {', '.join(known)}."


def parse(data: bytes, *, filename: str) -> Table:
    """Read bytes as TOML.

    Raises
    ------
    CannotRead
        Empty, too long, not text, or not TOML; with the line where the reader stopped.
    """
    fault = _unreadable(data)
    if fault is None:
        try:
            return tomllib.loads(data.decode("utf-8-sig"))
        except tomllib.TOMLDecodeError as error:
            fault = _where_it_stopped(str(error))
        except RecursionError:
            fault = Fault(
                "the file", "lists inside lists without end", "Write it as the examples are written."
            )
    raise CannotRead(f"{filename} cannot be read.", faults=(fault,))


def _unreadable(data: bytes) -> Fault | None:
    if len(data) > LONGEST_FILE:
        return Fault(
            "the file", f"it is {len(data):,} bytes long", "A lesson or a way of working is far shorter."
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        found = f"byte {error.start + 1} is not text in UTF-8"
        return Fault("the file", found, "Save it from a text editor as UTF-8.")
    return None if text.strip() else Fault("the file", "it is empty", "Start from one of the examples.")


def _where_it_stopped(message: str) -> Fault:
    at = re.search(r"\(at (?:line (\d+), column \d+|end of document)\)", message)
    where = f"line {at.group(1)}" if at and at.group(1) else "the end of the file"
    said = re.sub(r"\s*\(at [^)]*\)", "", message).rstrip(".")
    found = f"{said[:1].lower()}{said[1:]}"
    return Fault(where, found, 'Every line is a [heading] or key = value, with words in "quotation marks".')


class Fields:
    """One table of a file, its place in words, and the faults found so far (shared by all tables of a file)."""

    def __init__(self, table: Table, where: str, faults: list[Fault]) -> None:
        self.table = dict(table)
        self.where = where
        self.faults = faults
        self._known: list[str] = []

    def fault(self, key: str, found: str, would_do: str) -> None:
        """Note one fault at a key of this table."""
        self.faults.append(Fault(f"{self.where}, {key}" if self.where else key, found, would_do))

    def _take(self, key: str) -> object | None:
        self._known.append(key)
        return self.table.pop(key, None)

    def has(self, key: str) -> bool:
        """Whether the key is (still) there."""
        return key in self.table

    def text(self, key: str, *, required: bool = False, default: str = "", longest: int = 600) -> str:
        """Words; empty words do not count where the key is required."""
        value = self._take(key)
        if value is None and not required:
            return default
        if not isinstance(value, str):
            found = (
                "nothing there"
                if value is None
                else f"{_shown(value)}, which is not words in quotation marks"
            )
            self.fault(key, found, f'Write {key} = "...".')
            return default
        if required and not value.strip():
            self.fault(key, "no words between the quotation marks", "Say it in a few words.")
        if len(value) > longest:
            self.fault(
                key, f"{len(value)} characters", f"Keep it under {longest}: it has to fit its place on paper."
            )
        return value

    def texts(self, key: str, *, longest: int = 600) -> tuple[str, ...]:
        """A list of words."""
        value = self._take(key)
        if value is None:
            return ()
        if not isinstance(value, list) or not all(isinstance(item, str) and item.strip() for item in value):
            self.fault(
                key, f"{_shown(value)}, which is not a list of words", f'Write {key} = ["...", "..."].'
            )
            return ()
        for item in value:
            if len(item) > longest:
                self.fault(key, f'"{item[:40]}..." has {len(item)} characters', f"Keep it to {longest}.")
        return tuple(value)

    def whole(self, key: str, *, default: int = 0, least: int = 0, most: int = 10_000) -> int:
        """A whole number within limits."""
        value = self._take(key)
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            self.fault(key, f"{_shown(value)}", f"Write a whole number from {least} to {most}.")
            return default
        return value

    def number(self, key: str, *, default: float = 0.0, least: float = 0.0, most: float = 600.0) -> float:
        """A number within limits, such as minutes."""
        value = self._take(key)
        if value is None:
            return default
        if not _is_number(value) or not least <= value <= most:  # type: ignore[operator]
            self.fault(key, f"{_shown(value)}", f"Write a number from {least:g} to {most:g}.")
            return default
        return value  # type: ignore[return-value]

    def yes(self, key: str) -> bool:
        """True or false."""
        value = self._take(key)
        if value is None:
            return False
        if not isinstance(value, bool):
            self.fault(key, _shown(value), f"Write {key} = true, or leave the line out.")
            return False
        return value

    def choice(self, key: str, words: Iterable[str], *, required: bool = False, default: str = "") -> str:
        """One of a few known words; the default stands in for a fault."""
        known = list(words)
        value = self._take(key)
        if value is None and not required:
            return default
        if value not in known:
            found = "nothing there" if value is None else _shown(value)
            self.fault(key, found, near(str(value or ""), known))
            return default
        return str(value)

    def time(self, key: str) -> dt.time | None:
        """A clock time, written 10:25 in quotation marks or 10:25:00 without."""
        value = self._take(key)
        if isinstance(value, str):
            with contextlib.suppress(ValueError):
                value = dt.time.fromisoformat(value)
        if value is not None and not (isinstance(value, dt.time) and value.tzinfo is None):
            self.fault(key, _shown(value), f'Write {key} = "10:25", in hours and minutes.')
            return None
        return value

    def date(self, key: str) -> dt.date | None:
        """A day, written 2027-03-04."""
        value = self._take(key)
        if value is not None and (not isinstance(value, dt.date) or isinstance(value, dt.datetime)):
            self.fault(key, _shown(value), f"Write {key} = 2027-03-04, year first, without quotation marks.")
            return None
        return value

    def minutes(self, key: str, *, required: bool = True) -> Span | None:
        """Least, planned and most minutes, or one number for all three."""
        value = self._take(key)
        if value is None and not required:
            return None
        numbers = self._three(key, value, "Write minutes = [least, planned, most], for instance [3, 5, 6].")
        if numbers is None:
            return None
        least, planned, most = numbers
        if not 0 <= least <= planned <= most:
            self.fault(
                key, f"{_shown(value)} is out of order", "The least comes first, then planned, then the most."
            )
            return None
        if planned <= 0 or most > 600:
            self.fault(key, _shown(value), "Plan more than 0 and at most 600 minutes.")
            return None
        return Span(least, planned, most)

    def size(self, key: str = "size") -> Size | None:
        """Least, aimed at and most pupils in a group, or one number for all three."""
        value = self._take(key)
        if value is None:
            return None
        numbers = self._three(key, value, "Write size = [least, aimed at, most], for instance [3, 4, 5].")
        if numbers is None:
            return None
        if any(number != int(number) or not 1 <= number <= 400 for number in numbers):
            self.fault(key, _shown(value), "Pupils come in whole numbers from 1 up.")
            return None
        least, target, most = (int(number) for number in numbers)
        if not least <= target <= most:
            self.fault(
                key,
                f"{_shown(value)} is out of order",
                "The least comes first, then aimed at, then the most.",
            )
            return None
        return Size(target=target, least=least, most=most)

    def _three(self, key: str, value: object, would_do: str) -> tuple[float, float, float] | None:
        if _is_number(value):
            value = [value] * 3
        if not isinstance(value, list) or len(value) != 3 or not all(_is_number(item) for item in value):
            self.fault(key, "nothing there" if value is None else _shown(value), would_do)
            return None
        return (value[0], value[1], value[2])

    def inner(self, key: str) -> Fields | None:
        """A table inside this one."""
        value = self._take(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.fault(key, _shown(value), f"Write it as a table that begins [{key}].")
            return None
        return Fields(value, f"{self.where}, {key}" if self.where else key, self.faults)

    def rows(self, key: str) -> tuple[Fields, ...]:
        """The tables of a list of tables, each with its number and its name in words."""
        value = self._take(key)
        if value is None:
            return ()
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.fault(key, _shown(value), f"Write each as a table that begins [[{key}]].")
            return ()
        return tuple(
            Fields(item, self._row_name(key, n, item), self.faults) for n, item in enumerate(value, 1)
        )

    def _row_name(self, key: str, number: int, table: Table) -> str:
        name = table.get("name", table.get("word"))
        here = f"{key} {number}" + (f" ({name})" if isinstance(name, str) and name else "")
        return f"{self.where}, {here}" if self.where else here

    def leftover(self) -> None:
        """Report every key that nobody asked for."""
        for key in self.table:
            self.fault(f'"{key}"' if key else '""', "this key is not known here", near(key, self._known))


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _shown(value: object) -> str:
    text = (
        f'"{value}"'
        if isinstance(value, str)
        else str(value).lower()
        if isinstance(value, bool)
        else str(value)
    )
    return text if len(text) <= 60 else f"{text[:57]}..."
