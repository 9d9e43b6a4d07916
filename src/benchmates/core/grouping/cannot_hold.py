"""When the musts cannot all hold: the smallest set that clashes, in the teacher's words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from benchmates.core.grouping.seats import Layout
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, counted, joined

LEAST_PUPILS = {Kind.APART: 2, Kind.TOGETHER: 2, Kind.NEAR_ADULT: 1, Kind.FIXED: 1}


@dataclass(frozen=True)
class Clash:
    """One must of a set that cannot hold together, cut down to the pupils who matter."""

    must: Must

    def as_json(self) -> dict[str, object]:
        """As printed on the command line."""
        return {
            "must": str(self.must.kind),
            "pupils": list(self.must.pupils),
            "because": self.must.because,
            "where": self.must.where,
            "row": self.must.row,
        }


def smallest_clash(musts: Sequence[Must], clashes: Callable[[Sequence[Must]], bool]) -> tuple[Must, ...]:
    """Shrink musts that cannot all hold to a set from which nothing can be left out.

    Musts are tried away one by one, last first, then pupils within each must. ``clashes`` says whether a set of musts
    is shown to be impossible; what it cannot decide counts as possible, so the set named always clashes.
    """
    kept = list(musts)
    for must in reversed(musts):
        without = [m for m in kept if m is not must]
        if clashes(without):
            kept = without
    for k in range(len(kept)):
        for pupil in kept[k].pupils:
            fewer = replace(kept[k], pupils=tuple(p for p in kept[k].pupils if p != pupil))
            if len(fewer.pupils) >= LEAST_PUPILS[fewer.kind] and clashes([*kept[:k], fewer, *kept[k + 1 :]]):
                kept[k] = fewer
    return tuple(kept)


def told_clash(clash: Sequence[Must], layout: Layout, present: ClassList, adults: int) -> tuple[str, ...]:
    """Say why these musts clash, and what would do."""
    names = present.names()
    structural = (
        _too_many_apart(clash, layout, names) or _block_too_large(clash, layout, names) or _both(clash, names)
    )
    if structural:
        return structural
    said = [in_words(m, names, adults) for m in clash]
    if [m.kind for m in clash] == [Kind.NEAR_ADULT]:
        who = joined([names[p] for p in clash[0].pupils])
        return (
            f"{who} cannot{' all' if len(clash[0].pupils) > 1 else ''} be near an adult: "
            f"{counted(adults, 'adult')} can serve {2 * adults} neighbouring groups.",
            "Ask for another adult (a larger number of adults), or name fewer pupils.",
        )
    if [m.kind for m in clash] == [Kind.FIXED] and any(
        s.planned.relation is Relation.ONE_STAYS for s in layout.stages
    ):
        return (
            f"{said[0]}, but in this way all except one leave each table.",
            "Fix one pupil at a bench of their own: that pupil keeps the stall.",
        )
    if len(said) == 1:
        return (f"This cannot hold in these groups: {said[0]}.", "Ease it, or choose other groups.")
    return (f"These {len(said)} cannot all hold together: {'; '.join(said)}.", "Ease one of them.")


def in_words(must: Must, names: dict[PupilId, str], adults: int = 1) -> str:
    """One must as a teacher says it."""
    who = joined([names[p] for p in must.pupils])
    match must.kind:
        case Kind.APART:
            return f"{who} kept apart"
        case Kind.TOGETHER:
            return f"{who} kept together"
        case Kind.NEAR_ADULT:
            return f"{who} near an adult ({counted(adults, 'adult')} here, each for two neighbouring groups)"
        case Kind.FIXED:
            return f"{who} fixed at {must.where}" if must.where else f"{who} fixed in one place"


def _too_many_apart(
    clash: Sequence[Must], layout: Layout, names: dict[PupilId, str]
) -> tuple[str, ...] | None:
    if any(m.kind is not Kind.APART for m in clash):
        return None
    pairs = {frozenset(pair) for m in clash for pair in combinations(m.pupils, 2)}
    who = [p for p in names if any(p in pair for pair in pairs)]
    fewest = min((s for s in layout.stages if s.keeps_musts), key=lambda s: len(s.labels))
    if any(frozenset(pair) not in pairs for pair in combinations(who, 2)) or len(who) <= len(fewest.labels):
        return None
    return (
        f"{joined([names[p] for p in who])} are all kept apart from each other: {len(who)} pupils need "
        f"{len(who)} groups, and “{fewest.planned.name}” has {len(fewest.labels)}.",
        "Let two of them meet, or choose smaller groups.",
    )


def _block_too_large(
    clash: Sequence[Must], layout: Layout, names: dict[PupilId, str]
) -> tuple[str, ...] | None:
    if any(m.kind is not Kind.TOGETHER for m in clash):
        return None
    who = [p for p in names if any(p in m.pupils for m in clash)]
    tightest = min((s for s in layout.stages if s.keeps_musts), key=lambda s: max(s.planned.sizes))
    most = max(tightest.planned.sizes)
    if len(who) <= most:
        return None
    return (
        f"{joined([names[p] for p in who])} are kept together, which makes {len(who)}; the largest group in "
        f"“{tightest.planned.name}” has {most}.",
        "Keep fewer together, or choose larger groups.",
    )


def _both(clash: Sequence[Must], names: dict[PupilId, str]) -> tuple[str, ...] | None:
    if len(clash) != 2 or {m.kind for m in clash} != {Kind.APART, Kind.TOGETHER}:
        return None
    shared = set(clash[0].pupils) & set(clash[1].pupils)
    if len(shared) < 2:
        return None
    who = joined([names[p] for p in names if p in shared])
    return (f"{who} are to be both apart and together.", "Take one of the two away.")
