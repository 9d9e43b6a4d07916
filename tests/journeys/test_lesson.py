"""From pasted names to paper, and from a purpose to a printed lesson, as a teacher would press it."""

from __future__ import annotations

import io
import zipfile

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from tests.journeys.conftest import Demo
from tests.journeys.presses import Counter

pytestmark = pytest.mark.browser

# Invented names, some with marks and from other scripts, two of them alike.
TWENTY_EIGHT = [
    "Ada N", "Bao L", "Ceri M", "Dov S", "Ekin T", "Fern W", "Gil A", "Hetty R", "Inigo P", "Jaya K", "Kit O",
    "Zoë D", "Łucja C", "Orla B", "Pavel Z", "Qasim H", "Rhys E", "Sunniva G", "Teo F", "Una J", "Viggo Y", "Willa I",
    "Xanthe U", "Yann Q", "Zara X", "Ómar V", "李娜", "Нина Р",
]  # fmt: skip


def test_pasted_names_to_printed_cards_in_eight_presses(page: Page) -> None:
    """Handbook capability 1 and issue "first lesson": 28 names, at most 8 presses to printed cards."""
    hand = Counter(page, most=8)
    page.get_by_role("textbox", name="Paste the names of your class").fill("\n".join(TWENTY_EIGHT))
    hand.press(page.get_by_role("button", name="Read these names"))
    expect(page.get_by_role("heading", level=1)).to_have_text("28 pupils, not kept yet")
    hand.press(page.get_by_role("button", name="Keep this list and make groups"))
    expect(page.get_by_role("heading", level=1, name="Groups")).to_be_visible(timeout=30_000)
    link = page.get_by_role("link", name="Print group cards")
    data = page.request.get(page.url.split("/lesson/")[0] + str(link.get_attribute("href"))).body()
    with page.context.expect_page():
        hand.press(link)
    text = "".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(data)).pages)
    missing = [name for name in TWENTY_EIGHT if name.split()[0] not in text]
    assert missing == []
    expect(page.get_by_role("link", name="Show the class")).to_be_visible()
    assert hand.presses == 3


def test_purpose_to_print_with_a_must_and_an_undo(page: Page, demo: Demo) -> None:
    hand = Counter(page, most=18)
    hand.press(page.get_by_role("link", name="Year 10 Textiles"))
    hand.press(page.get_by_role("link", name="Find a way of working"))
    hand.press(page.get_by_text("Which matters most, and why?"))
    hand.choose(page.get_by_label("Length of the lesson"), "50 minutes")
    first = page.locator(".way").first
    expect(first).to_be_visible()
    hand.press(page.locator(".way", has_text="Pairs to fours").get_by_role("button"))
    hand.press(page.get_by_role("button", name="Make groups"))
    expect(page.locator("svg.threads.wide")).to_be_visible(timeout=30_000)
    expect(page.locator(".told li").first).to_be_visible()
    hand.press(page.get_by_role("link", name="See the groups"))
    hand.press(page.locator("#musts > summary"))
    page.get_by_label("First pupil").fill("Ravi K")
    page.locator("#pupil-2").fill("Odile M")
    hand.press(page.get_by_role("button", name="Add this must"))
    expect(page.get_by_text("The must is added")).to_be_visible()
    hand.press(page.get_by_role("button", name="Make groups again"))
    expect(page.get_by_text("Now: compromise")).to_be_visible(timeout=30_000)
    hand.press(page.get_by_role("button", name="Undo").first)
    expect(page.get_by_role("status").get_by_text("Took back: groups made again for 22")).to_be_visible()
    expect(page.get_by_role("button", name="Put back").first).to_be_visible()
    zipped = page.request.get(
        demo.base + str(page.get_by_role("link", name="All as one zip, A4").get_attribute("href"))
    )
    names = zipfile.ZipFile(io.BytesIO(zipped.body())).namelist()
    assert {"group-cards.pdf", "run-sheet.pdf", "stage-strip.pdf", "wall.pdf"} <= set(names)


def test_names_to_groups_by_keyboard_alone(page: Page) -> None:
    page.keyboard.insert_text("\n".join(TWENTY_EIGHT[:12]))  # the field has the focus when the page opens
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("12 pupils, not kept yet")
    _tab_to(page, "Keep this list and make groups")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name="Groups")).to_be_visible(timeout=30_000)
    _tab_to(page, "Show the class")
    page.keyboard.press("Enter")
    expect(page.locator("main.wall h1")).to_have_text("Groups")
    page.wait_for_load_state()  # the keys work once the script is there
    page.keyboard.press("b")
    expect(page.locator("main.wall")).to_be_hidden()
    page.keyboard.press("b")
    expect(page.locator("main.wall")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("link", name="Print group cards")).to_be_visible()


def _tab_to(page: Page, words: str, most: int = 60) -> None:
    for _ in range(most):
        page.keyboard.press("Tab")
        if words in page.evaluate("document.activeElement.textContent"):
            return
    raise AssertionError(f"“{words}” was not reached in {most} steps")


def test_groups_as_they_sat_by_letter_keys_in_forty_presses(page: Page, demo: Demo) -> None:
    """Issue "first lesson", point 5: 28 pupils in 40 presses or fewer; here every letter typed counts as a press."""
    page.get_by_role("textbox", name="Paste the names of your class").fill("\n".join(TWENTY_EIGHT))
    page.get_by_role("button", name="Read these names").click()
    page.get_by_role("button", name="Keep this list", exact=True).click()
    number = page.url.rstrip("/").split("/")[-1]
    page.goto(f"{demo.base}/class/{number}/sat/")
    hand = Counter(page, most=40)
    for k in range(28):
        hand.key("ABCDEFG"[k // 4])
    expect(page.locator("#sat-count")).to_have_text("28 of 28 sit in a group")
    hand.key("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Groups they chose")
    expect(page.locator(".groups > li")).to_have_count(7)
    assert hand.presses == 29


def test_follow_another_pupil(page: Page) -> None:
    page.get_by_role("link", name="Year 9 Product design").click()
    page.get_by_role("link", name="Feeder audit").click()
    page.get_by_label("Follow", exact=True).select_option(index=3)
    name = page.get_by_label("Follow", exact=True).evaluate("s => s.selectedOptions[0].textContent")
    expect(page.locator("svg.threads.wide .name.on")).to_have_text(name)
    assert page.locator("#steps li").count() > 2


def test_pages_work_without_scripting(browser, demo: Demo) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(demo.link)
    page.get_by_role("textbox", name="Paste the names of your class").fill("\n".join(TWENTY_EIGHT[:9]))
    page.get_by_role("button", name="Read these names").click()
    page.get_by_role("button", name="Keep this list and make groups").click()
    page.get_by_role("link", name="Print group cards").wait_for(timeout=30_000)
    page.get_by_role("link", name="2 Way of working").click()
    page.get_by_text("Which matters most, and why?").click()
    page.get_by_role("button", name="Show what fits").click()
    page.get_by_role("button", name="Draw this lesson").first.click()
    expect(page.get_by_role("button", name="Make groups")).to_be_visible()
    context.close()
