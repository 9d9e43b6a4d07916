"""The two commands: they refuse kindly, and repeat safely."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import go
from tests.house.tree import ROOT


def test_old_python_is_refused_in_words() -> None:
    assert go.refusal((3, 10, 4)) == "Benchmates needs Python 3.11 or newer; this is Python 3.10.4."
    assert go.refusal((3, 11, 0)) is None
    assert go.refusal((4, 0, 0)) is None


def test_go_needs_nothing_but_python_itself() -> None:
    # -I keeps the folder and the environment out of sight, -S the installed packages.
    told = subprocess.run(
        [sys.executable, "-I", "-S", ROOT / "go.py", "help"], capture_output=True, text=True, check=False
    )

    assert told.returncode == 0
    assert [line.split()[0] for line in told.stdout.splitlines()[1:]] == list(go.VERBS)


def test_unknown_verb_lists_the_verbs(capsys: pytest.CaptureFixture[str]) -> None:
    assert go.main(["dmeo"]) == 2
    assert "demo" in capsys.readouterr().err


def test_verb_that_takes_nothing_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert go.main(["setup", "--fast"]) == 1
    assert capsys.readouterr().err == "\nsetup takes nothing further, but got: --fast\n"


def test_missing_venv_part_names_the_debian_package(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    # Debian's bare python3 has venv but not ensurepip: its package python3.11-venv "also provides ensurepip".
    monkeypatch.setattr(go, "VENV", tmp_path / "none")
    monkeypatch.setattr(go, "find_spec", lambda name: None if name == "ensurepip" else object())

    assert go.main(["setup"]) == 1
    version = f"{sys.version_info[0]}.{sys.version_info[1]}"
    assert f"sudo apt install python{version}-venv" in capsys.readouterr().err


def test_stamp_follows_locks_and_python(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    locks = {"run": tmp_path / "run", "dev": tmp_path / "dev"}
    for lock in locks.values():
        lock.write_bytes(b"one==1\n")
    monkeypatch.setattr(go, "LOCKS", locks)
    before = go.stamp_of("run", "3.11.2"), go.stamp_of("dev", "3.11.2")

    locks["run"].write_bytes(b"one==1\r\n")
    assert (go.stamp_of("run", "3.11.2"), go.stamp_of("dev", "3.11.2")) == before
    locks["dev"].write_bytes(b"one==2\n")
    assert go.stamp_of("run", "3.11.2") == before[0]
    assert go.stamp_of("dev", "3.11.2") != before[1]
    assert go.stamp_of("run", "3.12.0") != before[0]


def test_project_is_laid_twice_the_same(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(go, "VENV", tmp_path)
    (tmp_path / ("Scripts" if go.os.name == "nt" else "bin")).mkdir()
    environment = go.Environment("3.11.2", tmp_path)

    go.lay_project(environment)
    first = {file: file.stat().st_mtime_ns for file in tmp_path.rglob("*") if file.is_file()}
    go.lay_project(environment)

    assert {file: file.stat().st_mtime_ns for file in tmp_path.rglob("*") if file.is_file()} == first
    assert (tmp_path / "benchmates.pth").read_text(encoding="utf-8") == f"{ROOT / 'src'}\n"
    assert len(first) == 2


def test_make_and_go_know_the_same_verbs() -> None:
    line = next(line for line in (ROOT / "Makefile").read_text().splitlines() if line.startswith("VERBS"))

    assert line.split(":=")[1].split() == list(go.VERBS)
