"""Printing: folding, tables, groups, and the line that says something is going on."""

from __future__ import annotations

import io
import sys
import threading

import pytest

from benchmates.cli.words import folded, listed, table, waiting


@pytest.fixture(autouse=True)
def eighty(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")


def test_sentences_fold_within_the_terminal() -> None:
    lines = folded("a pupil " * 40, indent="  ", hang="    ").splitlines()
    assert max(map(len, lines)) <= 80
    assert [len(line) - len(line.lstrip()) for line in lines[:3]] == [2, 4, 4]


def test_a_name_is_never_broken_from_its_role() -> None:
    names = {str(k): f"Saoirse Fitzgerald {k}" for k in range(9)}
    roles = {str(k): "spokesperson" for k in range(9)}
    lines = listed("B", names, names, roles).splitlines()
    assert max(map(len, lines)) <= 80
    assert sum(line.count("(spokesperson)") for line in lines) == 9
    assert all(line.startswith(("  B  Saoirse", "     Saoirse")) for line in lines)


def test_a_table_keeps_fixed_columns_and_folds_the_rest() -> None:
    told = table(("Key", "Text"), [("think-pair-share", "words " * 30), ("x", "y")], shares=(0, 1))
    lines = told.splitlines()
    assert max(map(len, lines)) <= 80
    assert lines[0].split() == ["Key", "Text"]
    assert [line.split()[0] for line in lines[2:] if not line.startswith(" ")] == ["think-pair-share", "x"]


class Terminal(io.StringIO):
    def __init__(self) -> None:
        super().__init__()
        self.written = threading.Event()

    def write(self, text: str) -> int:
        self.written.set()
        return super().write(text)

    def isatty(self) -> bool:
        return True


def test_progress_shows_at_a_terminal_after_a_while_and_is_wiped(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = Terminal()
    monkeypatch.setattr(sys, "stderr", seen)
    with waiting("Making groups", after=0.0) as progress:
        progress(0.5)
    assert "Making groups ...  50%" in seen.getvalue()
    assert seen.getvalue().endswith(" \r")


def test_progress_shows_though_nothing_reports(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = Terminal()
    monkeypatch.setattr(sys, "stderr", seen)
    with waiting("Printing sheets", after=0.01):
        assert seen.written.wait(timeout=30)
    assert "Printing sheets ..." in seen.getvalue()


def test_nothing_shows_when_it_is_quick_or_nobody_watches(monkeypatch: pytest.MonkeyPatch) -> None:
    for stream, after in ((Terminal(), 60.0), (io.StringIO(), 0.0)):
        monkeypatch.setattr(sys, "stderr", stream)
        with waiting("Making groups", after=after) as progress:
            progress(1.0)
        assert stream.getvalue() == ""
