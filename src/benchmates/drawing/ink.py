"""Weights and colours of a drawing's lines, said once for the page's style sheet and for drawings that stand alone."""

from __future__ import annotations

from collections.abc import Callable

from benchmates.drawing.lettering import FACE
from benchmates.drawing.palette import PALETTE
from benchmates.drawing.tokens import symbols

# One rule a line; {name} stands for a colour of the palette.
_RULES = """
.thread {{ fill: none; stroke: {ink-2}; stroke-width: 1.35; }}
.casing {{ fill: none; stroke: {paper}; stroke-width: 8; }}
.followed {{ fill: none; stroke: {accent}; stroke-width: 3.6; }}
.sleeve {{ fill: {paper}; stroke: {line}; stroke-width: 1; }}
.sleeve.group, .sleeve.ring {{ fill: {wash}; stroke: {ink}; stroke-width: 1.4; }}
.sleeve.outer {{ fill: none; stroke-dasharray: 4 3; }}
.sleeve.has {{ stroke: {accent}; stroke-width: 2.2; stroke-dasharray: none; }}
.threads .name, .threads .stage, .threads .mins, .threads .clock, .threads .part {{ fill: {ink}; font-size: 13px; }}
.threads {{ font-variant-numeric: tabular-nums; }}
.threads .mins, .threads .clock {{ fill: {ink-2}; font-size: 12.5px; }}
.threads .part {{ font-size: 12.5px; font-weight: 700; paint-order: stroke; stroke: {paper}; stroke-width: 5; }}
.threads .stage {{ font-weight: 700; }}
.threads .name.on {{ font-weight: 700; fill: {accent}; }}
.threads.many .name:not(.on) {{ display: none; }}
.tick {{ stroke: {ink}; stroke-width: 1; }}
.rule-line {{ stroke: {ink}; stroke-width: 1.5; fill: none; }}
.stage-line {{ stroke: {hair}; stroke-width: 1; fill: none; }}
.leader {{ stroke: {line}; stroke-width: 1; fill: none; }}
.endbar {{ stroke: {ink}; stroke-width: 2.5; fill: none; }}
""".strip()


def rules(colour: Callable[[str], str] = PALETTE.__getitem__) -> str:
    """The rules, each colour written as ``colour`` says (a value, or a custom property of the page)."""
    written = _RULES
    for name in PALETTE:
        written = written.replace(f"{{{name}}}", colour(name))
    return written.replace("{{", "{").replace("}}", "}")


def hatches() -> str:
    """Fine slanted lines for minutes never cut, upright ones for a move."""
    line = f'stroke="{PALETTE["ink"]}" stroke-width="1.1"'
    return (
        '<pattern id="h-fixed" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        f'<path d="M0 0V6" {line}/></pattern>'
        '<pattern id="h-move" width="4" height="4" patternUnits="userSpaceOnUse">'
        f'<path d="M.5 0V4" {line}/></pattern>'
    )


def definitions() -> str:
    """Tokens and hatches, once for each page that holds drawings."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" class="defs" width="0" height="0" aria-hidden="true"'
        f' focusable="false"><defs>{symbols()}{hatches()}</defs></svg>'
    )


def alone() -> str:
    """What a drawing needs inside itself when no page stands round it."""
    return f"<defs>{symbols()}{hatches()}</defs><style>text {{ font-family: {FACE}; }}\n{rules()}</style>"
