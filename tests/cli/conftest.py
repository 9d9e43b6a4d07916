"""Running the command in this process (quick) or as a process of its own (what a teacher types)."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from benchmates.cli.main import app

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"


@dataclass(frozen=True)
class Ending:
    """How a command ended."""

    code: int
    out: str
    err: str

    @property
    def object(self) -> dict[str, Any]:
        """The one object that the standard output holds; anything beside it is an error."""
        found = json.loads(self.out)
        assert isinstance(found, dict)
        return found


Run = Callable[..., Ending]


@pytest.fixture
def run() -> Run:
    """Run a command here; a traceback would come through as an exception."""

    def running(*words: object, pasted: str | bytes | None = None) -> Ending:
        result = CliRunner().invoke(app, [str(w) for w in words], input=pasted, catch_exceptions=False)
        return Ending(result.exit_code, result.stdout, result.stderr)

    return running


@pytest.fixture
def run_apart() -> Run:
    """Run a command as a process of its own."""

    def running(*words: object, pasted: str = "", environment: dict[str, str] | None = None) -> Ending:
        done = subprocess.run(
            [sys.executable, "-m", "benchmates.cli", *map(str, words)],
            input=pasted.encode(),
            capture_output=True,
            timeout=120,
            check=False,
            env={**os.environ, "PYTHONPATH": str(ROOT / "src"), **(environment or {})},
        )
        return Ending(done.returncode, done.stdout.decode(), done.stderr.decode())

    return running
