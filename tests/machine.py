"""Tools that the tests drive and pip cannot bring: where this machine keeps them, and what Debian calls them.

Standard library only: ``go.py`` asks here before there is anything else.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
CHROMIUM_PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Google/Chrome/Application/chrome.exe",
)


def find_chromium() -> Path | None:
    """A browser that can be driven without a screen."""
    on_path = (shutil.which(name) for name in CHROMIUM_NAMES)
    places = [Path(place) for place in (*on_path, *CHROMIUM_PLACES) if place]
    return next((place for place in places if place.exists()), None)


def find_pdftoppm() -> Path | None:
    """The tool that turns a printed page into a picture."""
    place = shutil.which("pdftoppm")
    return Path(place) if place else None


def find_initdb() -> Path | None:
    """PostgreSQL's set-up tool; Debian leaves it off the search path, in one folder for each release."""
    place = shutil.which("initdb")
    if place:
        return Path(place)
    return max(Path("/usr/lib/postgresql").glob("*/bin/initdb"), default=None)


def missing_packages() -> list[str]:
    """What Debian calls the tools that are not here; PostgreSQL only where it is demanded."""
    missing = [] if find_chromium() else ["chromium"]
    missing += [] if find_pdftoppm() else ["poppler-utils"]
    if os.environ.get("REQUIRE_POSTGRES") == "1" and not find_initdb():
        missing.append("postgresql")
    return missing
