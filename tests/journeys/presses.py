"""Count what a teacher does: a click, a choice in a list and Enter are a press; typing and pasting are free."""

from __future__ import annotations

from dataclasses import dataclass

from playwright.sync_api import Locator, Page


@dataclass
class Counter:
    """Presses so far, and the most there may be."""

    page: Page
    most: int
    presses: int = 0

    def press(self, what: Locator) -> None:
        """Click once."""
        self._count()
        what.click()

    def key(self, name: str) -> None:
        """Press one key that is not text."""
        self._count()
        self.page.keyboard.press(name)

    def choose(self, what: Locator, label: str) -> None:
        """Open a list and choose: two presses."""
        self._count(2)
        what.select_option(label=label)

    def _count(self, more: int = 1) -> None:
        self.presses += more
        assert self.presses <= self.most, f"{self.presses} presses, and {self.most} were to be enough"
