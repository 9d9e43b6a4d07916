"""Every console snippet runs, and every link leads somewhere."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

REPO = Path(__file__).parents[2]
PAGES = [REPO / n for n in ("README.md", "CONTRIBUTING.md", "CHANGELOG.md")] + sorted(
    REPO.glob("docs/**/*.md")
)
FENCE = re.compile(r"^```console([^\n]*)\n(.*?)^```", re.M | re.S)
LINK = re.compile(r"\]\(([^)\s]+)\)")


def _snippets() -> Iterator[tuple[str, str]]:
    for page in PAGES:
        for info, body in FENCE.findall(page.read_text(encoding="utf-8")):
            if "no-run" not in info:
                yield page.relative_to(REPO).as_posix(), body


def _commands(body: str) -> list[str]:
    return [line[2:] for line in body.splitlines() if line.startswith("$ ")]


@pytest.mark.parametrize(
    ("page", "body"), [pytest.param(p, b, id=f"{p}-{i}") for i, (p, b) in enumerate(_snippets())]
)
def test_snippet_runs(page: str, body: str, tmp_path: Path) -> None:
    shutil.copytree(REPO / "examples", tmp_path / "examples")
    path = os.pathsep.join([str(REPO / "src"), os.environ.get("PYTHONPATH", "")])
    for command in _commands(body):
        line, _, into = command.partition(" > ")
        line, _, source = line.partition(" < ")
        words = shlex.split(line)
        assert Path(words[0]).name == "benchmates", f"{page}: only our own command stands in a snippet"
        given = (tmp_path / source.strip()).read_bytes() if source else b""
        ran = subprocess.run(
            [sys.executable, "-m", "benchmates.cli.main", *words[1:]],
            cwd=tmp_path, input=given, capture_output=True, timeout=120, env={**os.environ, "PYTHONPATH": path},
        )  # fmt: skip
        assert ran.returncode == 0, f"{page}: {command}\n{ran.stderr.decode()}"
        if into:
            (tmp_path / into.strip()).write_bytes(ran.stdout)


def test_snippets_are_found() -> None:
    assert {"README.md", "docs/start/first-lesson.md"} <= {page for page, _ in _snippets()}


def test_a_snippet_that_does_not_run_says_why() -> None:
    infos = [i for p in PAGES for i, _ in FENCE.findall(p.read_text(encoding="utf-8")) if "no-run" in i]

    assert [i for i in infos if not re.search(r"no-run: \w+", i)] == []


def _anchors(page: Path) -> set[str]:
    headings = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.M)
    return {re.sub(r"[^\w\- ]", "", h.lower()).replace(" ", "-") for h in headings}


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.relative_to(REPO).as_posix())
def test_links_lead_somewhere(page: Path) -> None:
    lost = []
    for link in LINK.findall(page.read_text(encoding="utf-8")):
        if "://" in link:
            continue
        file, _, anchor = link.partition("#")
        target = (page.parent / file) if file else page
        if not target.exists() or (anchor and anchor not in _anchors(target)):
            lost.append(link)

    assert lost == []


def test_every_page_can_be_reached_from_the_index() -> None:
    reached, todo = set(), [REPO / "docs" / "index.md"]
    while todo:
        page = todo.pop().resolve()
        if page in reached or page.suffix != ".md" or not page.exists():
            continue
        reached.add(page)
        todo += [page.parent / link.split("#")[0] for link in LINK.findall(page.read_text(encoding="utf-8"))]

    assert [
        p.relative_to(REPO).as_posix() for p in PAGES if p.parts[-2] != REPO.name and p not in reached
    ] == []
