"""Every pupil stands on every sheet, whatever the script of the name."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest

from benchmates.core.strategy.catalogue import KEYS
from tests.sheets.printed import CLASS_FACING, class_of, lesson_of, named, pack, printed, text_of

# Common names in each script, written down from memory; nobody is meant.
SCRIPTS = {
    "Latin": "Żółć Ọlá", "Vietnamese": "Nguyễn Hồng", "Greek": "Ελένη", "Cyrillic": "Ольга Ґ", "Arabic": "محمد",
    "Urdu": "گل پری", "Hebrew": "שרה", "Devanagari": "आर्या", "Bengali": "অনন্যা", "Gujarati": "ગીતા",
    "Gurmukhi": "ਹਰਪ੍ਰੀਤ", "Tamil": "தமிழ்", "Telugu": "శ్రీదేవి", "Sinhala": "සිංහල", "Thai": "สมชาย",
    "Georgian": "ქეთევან", "Armenian": "Անահիտ", "Ethiopic": "አበበ", "Chinese": "李小龙", "Japanese": "山田はなこ",
    "Korean": "김민준",
}  # fmt: skip
# Scripts in which a letter is one sign on paper. In the rest signs join, turn or stack, and a reader of PDF text may
# say one twice or in another order; that they are drawn is held by the rules of PDF/UA (tests/house/test_fonts.py).
WHOLE = (
    "Latin",
    "Greek",
    "Cyrillic",
    "Thai",
    "Georgian",
    "Armenian",
    "Ethiopic",
    "Chinese",
    "Japanese",
    "Korean",
)
# Egyptian hieroglyphs: in no font that we carry.
NOBODYS = "\U00013000\U00013001"


@pytest.mark.parametrize(
    "key", ["snowball", "jigsaw", "carousel", "fishbowl", "critique-gallery", "brainwriting"]
)
@pytest.mark.parametrize("sheet", CLASS_FACING)
def test_every_pupil_is_named(key: str, sheet: str) -> None:
    text = text_of(pack(key)[sheet])

    assert [pupil.name for pupil in class_of(22) if pupil.name not in text] == []


def test_run_sheet_has_a_line_for_every_single_absence() -> None:
    text = text_of(pack("snowball")["run-sheet.pdf"])

    assert [pupil.name for pupil in class_of(22) if f"If {pupil.name} is away:" not in text] == []
    assert "Staff copy. Collect and shred." in text


def test_names_in_any_script_print_whole() -> None:
    names = tuple(SCRIPTS.values())

    files = printed(named(*names), lesson_of("spokesperson"))

    assert files.notices == ()
    for sheet in CLASS_FACING:
        # The reader puts a gap where the font changes within a word, so gaps do not count here.
        text = unicodedata.normalize("NFC", text_of(files[sheet])).replace(" ", "")
        assert [script for script in WHOLE if SCRIPTS[script].replace(" ", "") not in text] == []
        assert [script for script, name in SCRIPTS.items() if not set(name) <= {*text, " "}] == []


def test_name_in_nobodys_font_is_marked_numbered_and_told() -> None:
    files = printed(
        named("Alba Q", f"Bram {NOBODYS}", "Cai Y", NOBODYS, "Della G", "Ewan I"), lesson_of("spokesperson")
    )

    assert len(files.notices) == 2
    assert "Pupil 2" in files.notices[0]
    assert "Write that name by hand" in files.notices[0]
    for pdf in files.values():
        text = text_of(pdf)
        assert "(number 2)" in text
        assert "(number 4)" in text
        assert "Bram □□" in text


def test_letters_of_a_lesson_that_no_font_has_are_marked_and_told() -> None:
    lesson = replace(lesson_of("spokesperson"), title=f"Signs {NOBODYS}")

    files = printed(class_of(8), lesson)

    assert files.notices == (
        "Some letters of the lesson’s words cannot be drawn and print as □: U+13000, U+13001.",
    )
    assert "Signs □□" in text_of(files["run-sheet.pdf"])


@pytest.mark.long
@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize(("paper", "large"), [("a4", False), ("a5", False), ("a4", True), ("a5", True)])
def test_every_way_prints_at_twenty_two(key: str, paper: str, large: bool) -> None:
    files = pack(key, paper=paper, large=large)

    for sheet in CLASS_FACING:
        text = text_of(files[sheet])
        assert [pupil.name for pupil in class_of(22) if pupil.name not in text] == []
