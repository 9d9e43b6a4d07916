"""What every test may lean on: Django where there are pages, and the tools that only some machines have."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import settings as laws

import go
from tests import machine

# No test may fail for being slow: machines are shared and noisy. The build machine always tries the same examples.
laws.register_profile("house", deadline=None, derandomize=os.environ.get("CI") == "true")
laws.load_profile("house")

SETTINGS = go.SOURCE / "benchmates/web/site/settings.py"
if SETTINGS.exists():
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "benchmates.web.site.settings")
    # Playwright keeps a loop running, and Django would then refuse its own plain calls.
    os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")


@dataclass(frozen=True)
class Need:
    """A tool outside Python that the tests under ``marker`` cannot do without."""

    marker: str
    what: str
    find: Callable[[], Path | None]
    demanded_by: str
    cure: str

    def meet(self, config: pytest.Config) -> Path:
        """Answer where the tool is; without it skip, or fail where the build machine demands it."""
        place = self.find()
        if place is not None:
            return place
        if os.environ.get(self.demanded_by) == "1":
            pytest.fail(f"{self.demanded_by}=1, but there is no {self.what} here. {self.cure}", pytrace=False)
        config.stash[UNMET].append(self)
        pytest.skip(f"no {self.what} here: {self.cure}")


UNMET = pytest.StashKey[list[Need]]()
BROWSER = Need("browser", "Chromium", machine.find_chromium, "REQUIRE_BROWSER", "sudo apt install chromium")
PICTURES = Need(
    "pictures", "pdftoppm", machine.find_pdftoppm, "REQUIRE_BROWSER", "sudo apt install poppler-utils"
)
POSTGRES = Need(
    "postgres", "PostgreSQL", machine.find_initdb, "REQUIRE_POSTGRES", "sudo apt install postgresql"
)


def pytest_configure(config: pytest.Config) -> None:
    config.stash[UNMET] = []
    if SETTINGS.exists():
        # Looked at here, the settings count as configured, and pytest-django sets Django up after us.
        from django.conf import settings

        assert settings.DATABASES


def pytest_runtest_setup(item: pytest.Item) -> None:
    for need in (BROWSER, PICTURES, POSTGRES):
        if item.get_closest_marker(need.marker) is not None:
            need.meet(item.config)


@pytest.fixture(scope="session")
def chromium_path(request: pytest.FixtureRequest) -> Path:
    """The browser to drive, always with a fresh profile and without a screen."""
    return BROWSER.meet(request.config)


@pytest.fixture(scope="session")
def pdftoppm_path(request: pytest.FixtureRequest) -> Path:
    """The tool that turns a printed page into a picture."""
    return PICTURES.meet(request.config)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    lines = list(boxed(config.stash[UNMET]))
    for line in lines:
        terminalreporter.write_line(line, yellow=True)


def boxed(unmet: list[Need]) -> Iterator[str]:
    """Say in a box what was skipped for want of a tool, how often, and which one command would help."""
    rows = [
        f"{unmet.count(need)} skipped for want of {need.what}. To run them:  {need.cure}"
        for need in dict.fromkeys(unmet)
    ]
    if not rows:
        return
    width = max(len(row) for row in rows)
    yield f"+-{'-' * width}-+"
    yield from (f"| {row:<{width}} |" for row in rows)
    yield f"+-{'-' * width}-+"
