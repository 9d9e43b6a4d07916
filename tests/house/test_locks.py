"""The lock files: every package by hash, no address of any machine, and in step with what the project asks for."""

from __future__ import annotations

import re
import tomllib

import pytest

import go
from tests.house.tree import ROOT

LOCKS = ["requirements.lock", "requirements-dev.lock"]


def pins(lock: str) -> dict[str, str]:
    """Each pinned line of a lock file with the hashes below it."""
    text = (ROOT / lock).read_text(encoding="utf-8").replace("\\\n", " ")
    return {line.split(maxsplit=1)[0]: line for line in text.splitlines() if line.strip()}


def wanted(requirements: list[str]) -> set[str]:
    """The bare names in a list of requirements."""
    return {re.split(r"[<>=!~\[; ]", requirement)[0].lower() for requirement in requirements}


def locked_names(lock: str) -> set[str]:
    return {pin.split("==")[0] for pin in pins(lock)}


@pytest.mark.parametrize("lock", LOCKS)
def test_lock_records_no_address(lock: str) -> None:
    text = (ROOT / lock).read_text(encoding="utf-8")

    assert [line for line in text.splitlines() if "://" in line or line.startswith(("-", "#"))] == []


@pytest.mark.parametrize("lock", LOCKS)
def test_lock_pins_every_package_by_hash(lock: str) -> None:
    loose = [pin for pin, line in pins(lock).items() if "==" not in pin or "--hash=sha256:" not in line]

    assert loose == []
    assert len(pins(lock)) > 20


def test_locks_hold_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    run = wanted(project["project"]["dependencies"])
    dev = wanted(project["dependency-groups"]["dev"])

    assert run - locked_names("requirements.lock") == set()
    assert (run | dev) - locked_names("requirements-dev.lock") == set()


def test_locks_agree_on_every_release_that_both_hold() -> None:
    run, dev = pins("requirements.lock"), pins("requirements-dev.lock")

    assert {pin: line for pin, line in run.items() if dev.get(pin) != line} == {}


def test_uv_is_cut_out_of_the_lock_with_all_its_hashes() -> None:
    text = (ROOT / "requirements-dev.lock").read_text(encoding="utf-8")

    block = go.pinned("uv", text)

    assert block is not None
    assert block.startswith("uv==")
    assert block.count("--hash=sha256:") == pins("requirements-dev.lock")[block.split()[0]].count(
        "--hash=sha256:"
    )
    assert "uvicorn" not in block
    assert go.pinned("no-such-package", text) is None
