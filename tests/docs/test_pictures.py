"""The pictures of the documentation are what the product draws today."""

from __future__ import annotations

import runpy
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs"


@pytest.mark.long
def test_threads_are_drawn_from_the_examples() -> None:
    drawn = runpy.run_path(str(DOCS / "pictures.py"))["threads"]()

    assert (DOCS / "pictures" / "threads.svg").read_text(encoding="utf-8") == drawn + "\n"
