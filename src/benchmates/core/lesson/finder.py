"""Two or three ways of working that suit a purpose, a class and a bell, and why."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from benchmates.core.errors import CannotPlan
from benchmates.core.lesson.plan import Lesson, lesson_for
from benchmates.core.lesson.timing import Timetable, in_words, timetable
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import PlannedStage, Shape, plan_shape
from benchmates.core.strategy.way import Purpose, Way
from benchmates.core.terms import counted, joined

MOST_OFFERED = 3
FEWEST_OFFERED = 2
BELLS = range(30, 125, 5)
# Which ways come first for which purpose (common practice, no source).
FIRST_CHOICES = {
    Purpose.GENERATE: ("round-robin", "brainwriting", "pass-on-sketching"),
    Purpose.COMPARE: ("pairs-to-fours", "snowball", "consensus-ranking"),
    Purpose.EVALUATE: ("role-cards", "carousel", "jigsaw", "listening-triads"),
    Purpose.LEARN: ("jigsaw", "market-place"),
    Purpose.LISTEN: ("listening-triads", "fishbowl"),
    Purpose.SHARE: ("envoys", "rainbow-groups", "spokesperson"),
    Purpose.IMPROVE: ("critique-gallery", "pass-on-sketching"),
    Purpose.MAKE: ("design-teams", "production-line"),
}


@dataclass(frozen=True)
class Fit:
    """One way offered: whether it fits this class and bell, and if not, what would.

    ``mark`` is the evidence mark of ``why``. ``sizes_told`` is empty where the class cannot be cut so.
    """

    way: Way
    fits: bool
    why: str
    mark: str
    sizes_told: str
    minutes_told: str
    nearest: str


def fitting(purpose: Purpose, *, pupils: int, minutes: int, ways: Iterable[Way]) -> tuple[Fit, ...]:
    """Offer up to three ways for a purpose: those that fit first, each in the order of first choice.

    Parameters
    ----------
    purpose
        What pupils are to do with one another.
    pupils
        How many are expected.
    minutes
        The bell.
    ways
        From which to choose; a teacher's own may stand among them.

    Notes
    -----
    Where fewer than two fit, ways that do not are added, with what would make them fit.
    """
    fits = [_fit(way, pupils, minutes) for way in _in_order(purpose, ways)]
    offered = [fit for fit in fits if fit.fits][:MOST_OFFERED]
    offered += [fit for fit in fits if not fit.fits][: max(0, FEWEST_OFFERED - len(offered))]
    return tuple(offered)


def _in_order(purpose: Purpose, ways: Iterable[Way]) -> list[Way]:
    first = FIRST_CHOICES[purpose]
    suited = [way for way in ways if purpose in way.purposes]
    return sorted(suited, key=lambda way: first.index(way.key) if way.key in first else len(first))


def _fit(way: Way, pupils: int, bell: int) -> Fit:
    try:
        shape = plan_shape(way, pupils)
    except CannotPlan as trouble:
        return Fit(way, False, way.why.text, way.why.mark, "", _span_told(way), " ".join(trouble.told))
    lesson, times = _timed(way, shape, bell)
    fits = _holds(lesson, times)
    nearest = "" if fits else _nearest_bell(way, shape, bell)
    return Fit(way, fits, way.why.text, way.why.mark, sizes_told(shape), _minutes_told(times, bell), nearest)


def _timed(way: Way, shape: Shape, bell: int) -> tuple[Lesson, Timetable]:
    # A way of the teacher's own may ask one question on purpose; here only its minutes matter.
    lesson = lesson_for(way, title=way.name, bell=bell, insists=True)
    return lesson, timetable(lesson, shape)


def _holds(lesson: Lesson, times: Timetable) -> bool:
    return not times.over and lesson.bell >= lesson.way.least_minutes


def _nearest_bell(way: Way, shape: Shape, bell: int) -> str:
    for longer in BELLS:
        if longer > bell and _holds(*_timed(way, shape, longer)):
            return f"It takes {longer} minutes or more."
    return "Spread it over two lessons."


def _minutes_told(times: Timetable, bell: int) -> str:
    grouped = sum(slot.minutes for slot in times.slots if slot.kind in ("stage", "move"))
    if times.over:
        return f"{in_words(grouped)} in groups at the shortest: {in_words(times.over)} over the bell"
    return f"{in_words(grouped)} in groups, of {bell}"


def _span_told(way: Way) -> str:
    least = sum(stage.minutes.least + stage.move for stage in way.stages)
    return f"{in_words(least)} in groups, or more"


def sizes_told(shape: Shape) -> str:
    """The groups in words, in the order of the lesson: "14 pairs, then 7 fours"."""
    told: list[str] = []
    for stage in shape.stages:
        words = _of_stage(stage)
        if words and words not in told:
            told.append(words)
    return ", then ".join(told) or "everyone on their own"


def _of_stage(stage: PlannedStage) -> str:
    if stage.stage.size is None or stage.turn:
        return ""
    if stage.relation is Relation.INNER_OUTER:
        inner, outer = stage.sizes
        return f"an inner ring of {inner} with {outer} round it"
    return _in_words(stage.sizes)


NAMES = {2: "pair", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine"}


def _in_words(sizes: tuple[int, ...]) -> str:
    runs = [(size, len(list(run))) for size, run in groupby(sorted(sizes, reverse=True))]
    return joined([_many(size, count) for size, count in runs])


def _many(size: int, count: int) -> str:
    if size not in NAMES:
        return counted(count, f"group of {size}", f"groups of {size}")
    name = NAMES[size]
    return counted(count, name, f"{name}es" if name == "six" else f"{name}s")
