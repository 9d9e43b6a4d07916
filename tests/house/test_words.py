"""Words: what a teacher reads avoids the words of handbook section 9, and nothing kept names a machine.

Common practice, no source: which of those words can be looked for without false alarm. "Weak" (a joint), "bottom"
(of a page), "points" and "best" have honest meanings in a workshop and are left to the reader.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from tests.house.tree import PACKAGE, kept, kept_files, parsed, place, text_of

AVOIDED = re.compile(
    r"\b(?:(?:low|high|mixed)[- ]ability|ability|bottom (?:set|group)s?|loners?|disruptive|naughty"
    r"|victims?|bull(?:y|ies)|special needs kids|winners?|losers?|leaderboards?|gamif\w+|safe to eat"
    r"|proven|optimal(?:ly)?|AI|smart|magic(?:al)?)\b",
    # "AI" is looked for as it is written, all else in any case.
    re.IGNORECASE,
)
# What surrounds the words on a page: comments, tags and the template's own language.
AROUND = {
    ".html": re.compile(
        r"<!--.*?-->|\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<(?:script|style)\b.*?</|<[^>]*>", re.DOTALL
    ),
    ".typ": re.compile(r"/\*.*?\*/|//[^\n]*", re.DOTALL),
    ".toml": re.compile(r"(?m)^\s*#.*$"),
    ".txt": re.compile(r"\{%.*?%\}|\{\{.*?\}\}", re.DOTALL),
}
# Put together here, so that this file does not hold what it looks for.
MACHINE = [
    *(f"/{folder}/" for folder in ("work", "farm", "root", "tmp")),
    "py" + "pi.org",
    "python" + "hosted",
    "registry.npm" + "js",
    "tran" + "script",
]


def avoided(text: str) -> list[str]:
    """The words in a text that a teacher should not meet."""
    return [word for word in AVOIDED.findall(text) if word.lower() != "ai" or word == "AI"]


def sentences(module: ast.Module) -> Iterator[ast.Constant]:
    """The strings of a module that hold words for a person: more than one word, and no docstring."""
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(module)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(module):
        if not isinstance(node, ast.Constant) or not isinstance(node.value, str):
            continue
        if " " in node.value and id(node) not in docstrings:
            yield node


def page_words(file: Path) -> str:
    """What is left of a template or a way of working when its own language is taken away."""
    return AROUND[file.suffix].sub(" ", file.read_text(encoding="utf-8"))


def test_avoided_words_are_found_and_honest_ones_are_not() -> None:
    assert avoided("The optimal groups, chosen by AI for low ability") == ["optimal", "AI", "low ability"]
    assert avoided("A disability; availability; said the aide; a smartphone; the paid trip") == []


def test_pages_sheets_and_ways_avoid_the_words_we_avoid() -> None:
    files = kept(*AROUND, under=PACKAGE)

    assert {place(file): words for file in files if (words := avoided(page_words(file)))} == {}


def test_messages_avoid_the_words_we_avoid() -> None:
    found = [
        f"{place(file)}:{sentence.lineno}: {words}"
        for file in kept(".py", under=PACKAGE)
        for sentence in sentences(parsed(file))
        if (words := avoided(str(sentence.value)))
    ]

    assert found == []


def test_nothing_kept_names_a_machine_or_a_registry() -> None:
    found = [
        f"{place(file)}:{number}: {word}"
        for file in kept_files()
        for number, line in enumerate((text_of(file) or "").splitlines(), start=1)
        for word in MACHINE
        if re.search(rf"(?<![\w.~}}]){re.escape(word)}", line, re.IGNORECASE)
    ]

    assert found == []
