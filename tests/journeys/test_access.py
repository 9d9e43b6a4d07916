"""axe finds nothing on any page at three sizes; nothing overflows; targets are large enough; 400 % still reads."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.journeys.conftest import Demo

pytestmark = pytest.mark.browser

PAGES = (
    "/",
    "/class/{klass}/",
    "/class/{klass}/way/?hear=compare+and+decide&bell=60",
    "/class/{klass}/way/?hear=learn+content&bell=30",
    "/class/{klass}/sat/",
    "/ways/",
    "/ways/snowball/",
    "/lesson/{lesson}/",
    "/lesson/{lesson}/groups/",
    "/lesson/{lesson}/wall/1/",
    "/lesson/{lesson}/wall/2/",
    "/nowhere/",
)
RULES = {
    "runOnly": {
        "type": "tag",
        "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }
}


@pytest.fixture(scope="module")
def numbers(browser: Browser, demo: Demo) -> dict[str, str]:
    """A class and its newest lesson in the seeded department."""
    page = browser.new_page()
    page.goto(demo.link)
    page.get_by_role("link", name="Year 9 Product design").click()
    klass = page.url.rstrip("/").split("/")[-1]
    page.get_by_role("link", name="Feeder audit").click()
    lesson = page.url.rstrip("/").split("/")[-1]
    page.close()
    return {"klass": klass, "lesson": lesson}


def unfolded(page: Page, demo: Demo, path: str, numbers: dict[str, str]) -> None:
    page.goto(demo.base + path.format(**numbers))
    # Everything that can be opened is looked at open.
    page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")


def test_axe_finds_nothing(sized: Page, demo: Demo, numbers: dict[str, str]) -> None:
    found = []
    for path in PAGES:
        if path == "/nowhere/":
            continue
        unfolded(sized, demo, path, numbers)
        for fault in Axe().run(sized, options=RULES).response["violations"]:
            found.append((path, fault["id"], [node["html"][:160] for node in fault["nodes"]][:3]))
    assert found == []


def test_nothing_overflows_and_targets_are_large(sized: Page, demo: Demo, numbers: dict[str, str]) -> None:
    """44 px: WCAG 2.2 success criterion 2.5.5 (enhanced); links inside sentences are excepted there."""
    small = []
    for path in PAGES[:-1]:
        unfolded(sized, demo, path, numbers)
        wide, room = sized.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert wide <= room, path
        small += [(path, *row) for row in sized.evaluate(SMALL)]
    assert small == []


SMALL = """[...document.querySelectorAll('button, select, summary, input:not([type=hidden]), nav a, .list a, a.btn')]
  .filter((e) => e.checkVisibility() && !e.closest('.unseen, .skip'))
  .map((e) => [e.tagName, (e.textContent || e.name || '').trim().slice(0, 40), e.getBoundingClientRect()])
  .filter(([, , box]) => box.height > 0 && (box.height < 43.5 || box.width < 24))
  .map(([tag, words, box]) => [tag, words, Math.round(box.width), Math.round(box.height)])"""


def test_wall_never_scrolls_on_a_projector(browser: Browser, demo: Demo) -> None:
    """Every stage of every seeded lesson at 1920 x 1080."""
    context = browser.new_context(viewport={"width": 1920, "height": 1080})
    page = context.new_page()
    page.goto(demo.link)
    tall, seen = [], 0
    for number in range(1, 17):  # four lessons in each of four classes
        stage = 1
        while page.goto(f"{demo.base}/lesson/{number}/wall/{stage}/").status == 200:
            height = page.evaluate("document.documentElement.scrollHeight")
            if height > 1080:
                tall.append((page.url, height))
            stage, seen = stage + 1, seen + 1
    context.close()
    assert tall == []
    assert seen > 40


def test_four_hundred_per_cent_still_reads(browser: Browser, demo: Demo, numbers: dict[str, str]) -> None:
    """WCAG 2.2 success criterion 1.4.10: 1280 px at 400 % is 320 px, without scrolling in two directions."""
    context = browser.new_context(viewport={"width": 320, "height": 256})
    page = context.new_page()
    page.goto(demo.link)
    over = []
    for path in PAGES[:-1]:
        unfolded(page, demo, path, numbers)
        wide = page.evaluate("document.documentElement.scrollWidth")
        if wide > 320:
            over.append((path, wide))
    context.close()
    assert over == []


def test_every_page_has_a_title_and_one_heading(
    browser: Browser, demo: Demo, numbers: dict[str, str]
) -> None:
    page = browser.new_page()
    page.goto(demo.link)
    titles = set()
    for path in PAGES:
        page.goto(demo.base + path.format(**numbers))
        titles.add(page.title())
        assert page.locator("h1").count() == 1, path
        assert page.locator("main").count() == 1, path
    page.close()
    assert len(titles) >= len(PAGES) - 2
