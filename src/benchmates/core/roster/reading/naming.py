"""Whom a list means: an id, or a display name that only one pupil has."""

from __future__ import annotations

from collections.abc import Iterable

from benchmates.core.terms import PupilId


class Naming:
    """The ids and display names of one class, for looking up."""

    def __init__(self, known: Iterable[tuple[PupilId, str]]) -> None:
        self._ids: set[str] = set()
        self._by_name: dict[str, list[PupilId]] = {}
        for id, name in known:
            self._ids.add(id)
            self._by_name.setdefault(name.casefold(), []).append(id)

    def who(self, text: str) -> tuple[PupilId | None, str]:
        """The id meant, or ``None`` and what is wrong. An id goes before a name."""
        if text in self._ids:
            return PupilId(text), ""
        named = self._by_name.get(text.casefold(), [])
        if len(named) == 1:
            return named[0], ""
        if named:
            return None, f"“{text}” is the name of {len(named)} pupils ({', '.join(named)})"
        return None, f"“{text}” is not in the class list"

    def parts(self, cell: str) -> list[str]:
        """The entries of a list cell, by ``;``; by commas where it has none and the whole is nobody."""
        if ";" not in cell and "," in cell and self.who(cell)[0] is None:
            return [part.strip() for part in cell.split(",") if part.strip()]
        return [part.strip() for part in cell.split(";") if part.strip()]
