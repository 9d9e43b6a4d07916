"""Every test of the pages has the cast; groups are made in the asking process."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.cast import Cast


@pytest.fixture(autouse=True)
def solve_here(settings) -> None:
    settings.SOLVE_IN = "here"


@pytest.fixture
def cast(db) -> Cast:
    from tests.cast import gather  # the apps are ready only after this file was read

    return gather()
