"""Read the code without running it: style, types, the order of the rooms. `python -m tests.checks`."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PYTHON = Path(sys.executable)


def checks() -> dict[str, list[str]]:
    """Each check by name, with its command."""
    tool = [str(PYTHON), "-m"]
    named = {
        "ruff check": [*tool, "ruff", "check"],
        "ruff format": [*tool, "ruff", "format", "--check"],
        "mypy": [*tool, "mypy"],
        "order of imports": [str(PYTHON.with_name("lint-imports")), "--no-cache", "--no-logo"],
    }
    if (ROOT / "src/benchmates/web").exists():
        named["mypy, pages"] = [*tool, "mypy", "--config-file", "mypy-web.ini"]
    return named


def passes(name: str, command: list[str]) -> bool:
    """Run one check; its words are shown only when it found something."""
    started = time.monotonic()
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, errors="replace", check=False)
    words = "in order" if done.returncode == 0 else f"FAULTS\n{done.stdout}{done.stderr}"
    print(f"{name} ({time.monotonic() - started:.1f} s): {words}", flush=True)
    return done.returncode == 0


def main() -> int:
    """Run every check, even after one has failed; 1 when any found something."""
    faulty = [name for name, command in checks().items() if not passes(name, command)]
    return 1 if faulty else 0


if __name__ == "__main__":
    sys.exit(main())
