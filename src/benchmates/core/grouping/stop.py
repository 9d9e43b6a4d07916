"""When to stop: a deadline read from a clock that is handed in."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

FINISHED = "all steps done"
TIME_UP = "time was up"
NOTHING_TO_GAIN = "nothing left to gain"


@dataclass
class Deadline:
    """So many seconds from now."""

    seconds: float
    clock: Callable[[], float] = time.monotonic
    began: float = field(init=False)

    def __post_init__(self) -> None:
        self.began = self.clock()

    @property
    def spent(self) -> float:
        """Seconds since the start."""
        return self.clock() - self.began

    @property
    def passed(self) -> bool:
        """Whether the time is up."""
        return self.spent >= self.seconds
