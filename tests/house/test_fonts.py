"""The font packages in the lock: a name in any script a register is likely to hold finds its letters.

Outside check: typst refuses a PDF/UA document that holds a letter no font can show (ISO 14289-1, 7.21.8: no reference
to the .notdef glyph; clause number from memory), so a compiled page proves that no name was left blank. The names are
common ones in each language, written down from memory; nobody is meant.
"""

from __future__ import annotations

from importlib.resources import files

import pytest

FOLDERS = ("fontpkg_atkinson_hyperlegible/files", "manimgx_fonts", "noto_cjk_sans_otc")
NAMES = {
    "Latin": "Zoë Żółć Nguyễn Thị Hồng Ŋgũgĩ Ọlá ʻOkina Siân Ağca Ľubica",
    "Greek": "Ελένη Παπαδοπούλου",
    "Cyrillic": "Ольга Ґалаґан Ђорђе Әсел",
    "Arabic": "محمد علی گل پری",
    "Hebrew": "שרה כהן",
    "Devanagari": "आर्या शर्मा",
    "Bengali": "অনন্যা দাস",
    "Gujarati": "ગીતા પટેલ",
    "Gurmukhi": "ਹਰਪ੍ਰੀਤ ਸਿੰਘ",
    "Tamil": "தமிழ்ச்செல்வி",
    "Telugu": "శ్రీదేవి",
    "Kannada": "ಕಾವ್ಯ",
    "Malayalam": "മാധവി",
    "Odia": "ଓଡ଼ିଆ",
    "Sinhala": "සිංහල",
    "Thai": "สมชาย",
    "Lao": "ລາວ",
    "Burmese": "မြန်မာ",
    "Khmer": "ខ្មែរ",
    "Georgian": "ქეთევან",
    "Armenian": "Անահիտ",
    "Ethiopic": "አበበ",
    "Chinese, simplified": "李小龙",
    "Chinese, traditional": "陳大文",
    "Japanese": "山田 はなこ タロウ",
    "Korean": "김민준",
}


def printed(name: str) -> bytes:
    """One page with one name on it, under the rules of PDF/UA, with the packaged fonts alone."""
    import typst

    rules = '#set document(title: "A name")\n#set text(font: "Atkinson Hyperlegible", lang: "en")'
    page = f'{rules}\n#"{name}" *#"{name}"*'
    folders = [
        str(files(package).joinpath(*rest)) for package, *rest in (folder.split("/") for folder in FOLDERS)
    ]
    pdf = typst.compile(page.encode(), font_paths=folders, ignore_system_fonts=True, pdf_standards=["ua-1"])
    assert isinstance(pdf, bytes)
    return pdf


@pytest.mark.parametrize("script", NAMES)
def test_name_prints_in_plain_and_bold(script: str) -> None:
    assert printed(NAMES[script]).startswith(b"%PDF-")


def test_a_letter_that_no_font_has_is_refused() -> None:
    # Cuneiform: outside every register we know, and so the proof that the check above can fail.
    with pytest.raises(Exception, match="could not be displayed"):
        printed("𒀀")
