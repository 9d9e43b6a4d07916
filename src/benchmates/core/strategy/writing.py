"""Write a way of working as a plain file that reads back to the same way. No pupil stands in it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence

from benchmates.core.strategy.fields import FORMAT
from benchmates.core.strategy.way import Card, Claim, Size, Stage, Way
from benchmates.core.terms import Span

BARE = re.compile(r"[A-Za-z0-9_-]+")


def write_way(way: Way) -> str:
    """The file of a way of working; what stands at its usual value is left out."""
    lines = [f"format = {FORMAT}", *head_lines(way)]
    for stage in way.stages:
        lines += ["", "[[stage]]", *stage_lines(stage, way.stages)]
    return "\n".join(lines) + "\n"


def head_lines(way: Way, table: str = "") -> list[str]:
    """Everything about a way but its stages, in a table of its own where a lesson carries it."""
    within = f"{table}." if table else ""
    lines = pairs(
        key=way.key, name=way.name, purposes=[purpose.value for purpose in way.purposes],
        groups_at_least=way.groups_at_least if way.groups_at_least != 1 else None,
        stations=way.stations or None, least_minutes=way.least_minutes or None,
        one_question_ok=way.one_question_ok or None, assess=way.assess, remainder=way.remainder, room=way.room,
        noise=way.noise, kit=way.kit, not_when=way.not_when, cautions=way.cautions,
    )  # fmt: skip
    lines += ["", f"[{within}why]", *_claim(way.why)]
    for claim in way.claims:
        lines += ["", f"[[{within}claim]]", *_claim(claim)]
    if way.jobs:
        lines += ["", f"[{within}jobs]", *(f"{_key(role)} = {value(job)}" for role, job in way.jobs)]
    return ["", f"[{table}]", *lines] if table else lines


def stage_lines(stage: Stage, stages: Sequence[Stage]) -> list[str]:
    """The lines of one stage under its heading."""
    lines = pairs(
        name=stage.name, relation=stage.relation.value, of=None if stage.of is None else stages[stage.of].name,
        size=stage.size and three(stage.size), repeat=stage.repeat if stage.repeat != 1 else None,
        moves=stage.moves if stage.moves != "pupils" else None, step=stage.step if stage.step != 1 else None,
        to_teacher=stage.to_teacher or None, by_part=stage.by_part or None, parts=stage.parts,
        from_pupils=stage.from_pupils or None, minutes=three(stage.minutes),
        move=stage.move if stage.move != 0.5 else None, each=stage.each or None,
        question=stage.question, product=stage.product, roles=stage.roles, spare_role=stage.spare_role,
    )  # fmt: skip
    return lines + card_lines(stage.cards)


def card_lines(cards: Iterable[Card]) -> list[str]:
    """The question cards of a stage."""
    lines: list[str] = []
    for card in cards:
        lines += ["", "[[stage.card]]", *pairs(word=card.word, question=card.question, shape=card.shape)]
    return lines


def three(span: Span | Size) -> list[float]:
    """Least, planned and most of minutes or of a size."""
    if isinstance(span, Size):
        return [span.least, span.target, span.most]
    return [span.least, span.planned, span.most]


def pairs(**values: object) -> list[str]:
    """Lines ``key = value``; None, empty words and empty lists are left out."""
    return [f"{key} = {value(found)}" for key, found in values.items() if found not in (None, "", (), [])]


def value(found: object) -> str:
    """One value in TOML."""
    if isinstance(found, bool):
        return "true" if found else "false"
    if isinstance(found, int | float):
        return str(int(found)) if float(found).is_integer() else repr(found)
    if isinstance(found, list | tuple):
        return f"[{', '.join(value(item) for item in found)}]"
    # JSON's escapes are TOML's, but for the delete character, which TOML wants escaped too.
    return json.dumps(str(found), ensure_ascii=False).replace("\x7f", "\\u007f")


def _claim(claim: Claim) -> list[str]:
    return pairs(text=claim.text, mark=claim.mark)


def _key(word: str) -> str:
    return word if BARE.fullmatch(word) else value(word)
