"""The demonstration itself, served from an empty folder, and a browser that counts presses."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

ROOT = Path(__file__).parents[2]
SIZES = {"laptop": (1366, 768), "phone": (390, 844), "projector": (1920, 1080)}


@dataclass(frozen=True)
class Demo:
    """A running demonstration: the teacher link and the address it opens."""

    link: str
    base: str


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Demo]:
    data = tmp_path_factory.mktemp("data")
    said = data / "said.txt"
    command = [sys.executable, "-m", "benchmates.web.site.demo", "--data", str(data / "held")]
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUTF8": "1"}
    with said.open("w") as out:
        running = subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT, env=surroundings, cwd=ROOT)
    try:
        link = _link(said, running)
        yield Demo(link, link.split("/open/")[0])
    finally:
        running.send_signal(signal.SIGINT)
        running.wait(10)


def _link(said: Path, running: subprocess.Popen[bytes], patience: float = 120) -> str:
    until = time.monotonic() + patience
    while time.monotonic() < until:
        text = said.read_text(errors="replace")
        if "Stop with Ctrl-C" in text:
            found = re.search(r"http://\S+", text)
            assert found is not None
            return found.group(0)
        assert running.poll() is None, text
        time.sleep(0.1)
    raise AssertionError(f"no link after {patience} s: {said.read_text(errors='replace')}")


@pytest.fixture(scope="session")
def browser(chromium_path: Path) -> Iterator[Browser]:
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=str(chromium_path), args=["--no-sandbox"])
        yield started
        started.close()


@contextmanager
def opened(browser: Browser, demo: Demo, size: str) -> Iterator[Page]:
    """A page of a fresh profile, signed in through the teacher link."""
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, accept_downloads=True)
    page = context.new_page()
    page.goto(demo.link)
    yield page
    context.close()


@pytest.fixture
def page(browser: Browser, demo: Demo) -> Iterator[Page]:
    """A laptop page that fails on any error of a script and on anything the security policy blocks."""
    trouble: list[str] = []
    with opened(browser, demo, "laptop") as laptop:
        laptop.on("pageerror", lambda error: trouble.append(str(error)))
        laptop.on("console", lambda line: trouble.append(line.text) if line.type == "error" else None)
        yield laptop
    assert trouble == []


@pytest.fixture(params=SIZES)
def sized(request: pytest.FixtureRequest, browser: Browser, demo: Demo) -> Iterator[Page]:
    """A page of each size; axe puts styles of its own into it, so what is blocked is not looked at here."""
    with opened(browser, demo, request.param) as page:
        yield page
