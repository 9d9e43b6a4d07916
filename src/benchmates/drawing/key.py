"""The key below a drawing: what its hatches, sleeves and heavy line mean."""

from __future__ import annotations

from benchmates.drawing.drawn import Drawing
from benchmates.drawing.scenes import Look, scenes


def key(drawing: Drawing, *, followed: bool = True) -> str:
    """HTML for the key; only marks that this drawing holds."""
    looks = {s.look for s in scenes(drawing)}
    bits = []
    if any(s.never_cut for s in drawing.slots):
        bits.append(
            _bit(
                '<rect x=".5" y="3" width="25" height="8" fill="url(#h-fixed)"/>',
                "minutes that are never cut",
            )
        )
    if any(s.is_move for s in drawing.slots):
        bits.append(_bit('<rect x="1" y="3" width="24" height="8" fill="url(#h-move)"/>', "move"))
    if looks & {Look.GROUPS, Look.STATIONS}:
        bits.append(
            _bit('<rect class="sleeve group" x="1" y="1.5" width="24" height="11" rx="4"/>', "a group")
        )
    if Look.PAIRS in looks:
        bits.append(
            _bit('<rect class="sleeve pairs" x="1" y="1.5" width="24" height="11" rx="4"/>', "a pair")
        )
    if Look.RINGS in looks:
        bits.append(
            _bit('<rect class="sleeve ring" x="1" y="1.5" width="24" height="11" rx="4"/>', "inner ring")
        )
        bits.append(
            _bit('<rect class="sleeve outer" x="1" y="1.5" width="24" height="11" rx="4"/>', "outer ring")
        )
    if followed:
        bits.append(_bit('<path class="followed" d="M0 7H26"/>', "followed pupil"))
    return "".join(bits)


def _bit(inside: str, words: str) -> str:
    return f'<span><svg width="26" height="14" viewBox="0 0 26 14" aria-hidden="true">{inside}</svg> {words}</span>'
