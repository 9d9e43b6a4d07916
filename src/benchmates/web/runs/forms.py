"""What the sheets of groups say, and what their forms bring in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from django.http import HttpRequest
from django.utils.safestring import SafeString, mark_safe

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.grouping.result import Group
from benchmates.core.lesson.plan import Lesson
from benchmates.core.lesson.plan import dead_time_told as one_question_told
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Card, Stage
from benchmates.core.terms import TOKEN_LETTERS, PupilId, Told, counted, joined
from benchmates.drawing.drawn import from_plan
from benchmates.drawing.follow import follow_data, follow_list, follow_options
from benchmates.drawing.key import key
from benchmates.drawing.threads import tall, wide
from benchmates.drawing.tokens import spoken
from benchmates.web.people.models import PupilRow, SchoolClass
from benchmates.web.runs.queries import Drawn

EMPTY_CARDS = 2
PAIR_SEPARATOR = "\x1f"
CALM_STAGES = (Relation.INDIVIDUAL, Relation.WHOLE)

PRINTS = (
    ("group-cards", "Group cards"),
    ("stage-strip", "Who goes where"),
    ("wall", "Wall sheet"),
    ("run-sheet", "Run sheet (staff)"),
)


def placed(lesson: Lesson, klass: SchoolClass) -> Lesson:
    """A lesson in the room of its class."""
    return replace(lesson, room=klass.room, class_name=klass.name, adults=max(1, klass.adults))


def made_of(lesson: Lesson) -> str:
    """What a lesson is made of: the name of its way, or its stages where the chain is the lesson's own."""
    if lesson.way.name != lesson.title:
        return lesson.way.name
    return ", ".join(stage.name for stage in lesson.way.stages)


def told_lines(drawn: Drawn) -> list[Told]:
    """What was achieved and what was not, groups first, then minutes."""
    groups = drawn.plan.sentences if drawn.plan else ()
    minutes = drawn.times.sentences if drawn.times else ()
    return [*(Told(text, met=False) for text in drawn.cannot), *groups, *minutes]


def print_notices(drawn: Drawn) -> tuple[str, ...]:
    """Names and words that would not print as they are written; told before the teacher prints."""
    from benchmates.sheets.pack import print_notices as notices

    if drawn.plan is None or drawn.times is None:
        return ()
    return notices(drawn.lesson, drawn.plan, drawn.class_list, timetable=drawn.times)


@dataclass(frozen=True)
class Threads:
    """The drawing of a lesson with one pupil followed, and the same in words."""

    wide: SafeString
    tall: SafeString
    key: SafeString
    followed: str
    pupils: Sequence[tuple[str, str]]
    shown_steps: Sequence[tuple[str, str]]
    who: dict[str, dict[str, object]]


def drawing(drawn: Drawn, *, follow: str) -> Threads | None:
    """Threads of a lesson that has groups; the SVG is made by us from escaped words."""
    if drawn.plan is None or drawn.times is None or not drawn.plan.present:
        return None
    picture = from_plan(drawn.times.slots, drawn.plan, drawn.class_list, bell=drawn.lesson.start)
    options = follow_options(picture)
    followed = PupilId(follow) if follow in drawn.plan.present else PupilId(options[0][0])
    return Threads(
        wide=mark_safe(wide(picture, followed)),
        tall=mark_safe(tall(picture, followed)),
        key=mark_safe(key(picture)),
        followed=followed,
        pupils=options,
        shown_steps=follow_list(picture, followed),
        who=follow_data(picture),
    )


@dataclass(frozen=True)
class StageLine:
    """A stage of the way with its words, to be changed in place."""

    number: int
    name: str
    relation: str
    question: str
    product: str
    cards: Sequence[Card]
    led: bool


def stage_lines(lesson: Lesson) -> list[StageLine]:
    """Every stage with its question, its product and its cards, with room for more cards."""
    return [_stage_line(k, stage) for k, stage in enumerate(lesson.way.stages)]


def _stage_line(number: int, stage: Stage) -> StageLine:
    cards = (*stage.cards, *(Card("", "") for _ in range(EMPTY_CARDS)))
    return StageLine(
        number, stage.name, stage.relation.in_words, stage.question, stage.product, cards, bool(stage.cards)
    )


@dataclass(frozen=True)
class TimeLine:
    """One stretch of the lesson on the clock."""

    at: str
    name: str
    minutes: str
    kept: bool


def time_lines(drawn: Drawn) -> list[TimeLine]:
    """The lesson on the clock, moves included."""
    slots = drawn.times.slots if drawn.times else ()
    return [
        TimeLine(drawn.clock(s.start), s.name, f"{s.minutes:g} min", s.never_cut)
        for s in slots
        if s.minutes > 0
    ]


def dead_time_told(lesson: Lesson) -> tuple[str, ...]:
    """Why one question at every size is refused; empty once the teacher insists."""
    return () if lesson.insists or lesson.way.one_question_ok else one_question_told(lesson)


@dataclass(frozen=True)
class MemberLine:
    """One pupil in a group on the staff sheet."""

    pid: str
    name: str
    role: str
    leads: str


@dataclass(frozen=True)
class GroupLine:
    """One group on the staff sheet."""

    label: str
    spoken: str
    where: str
    members: Sequence[MemberLine]
    pairs: Sequence[tuple[str, str]]
    cards: Sequence[tuple[str, str, str]]


@dataclass(frozen=True)
class GroupStage:
    """One stage with its groups, or one sentence where there are none to show."""

    number: int
    name: str
    words: str
    at: str
    groups: Sequence[GroupLine]
    singles: Sequence[tuple[str, str]] = ()


def group_stages(drawn: Drawn) -> list[GroupStage]:
    """The groups of every stage, for the teacher."""
    if drawn.plan is None:
        return []
    starts = (
        {
            s.stage: drawn.clock(s.start)
            for s in reversed(drawn.times.slots)
            if s.stage is not None and s.kind != "move"
        }
        if drawn.times
        else {}
    )
    stages = []
    for k, stage in enumerate(drawn.plan.stages):
        cards = drawn.lesson.way.stages[stage.source].cards
        calm = stage.relation in CALM_STAGES
        alone = not calm and all(len(g.members) == 1 for g in stage.groups)
        groups = [] if calm or alone else [_group_line(k, g, drawn, cards) for g in stage.groups]
        singles = sorted((drawn.names[g.members[0]], _where(g)) for g in stage.groups) if alone else []
        stages.append(GroupStage(k, stage.name, stage.relation.in_words, starts.get(k, ""), groups, singles))
    return stages


def _bench(group: Group) -> str:
    bench = f"bench {group.bench}" if (group.bench or "").isdigit() else group.bench
    return joined([w for w in (bench, group.station) if w])


def _where(group: Group) -> str:
    """Bench and station; a bare number is a place."""
    words = [w if not w.isdigit() else f"place {w}" for w in (group.station or group.bench or "",) if w]
    return joined(words)


def _group_line(stage: int, group: Group, drawn: Drawn, cards: Sequence[Card]) -> GroupLine:
    names = drawn.names
    members = [
        MemberLine(p, names[p], group.roles.get(p, ""), joined(list(group.leads.get(p, ()))))
        for p in group.members
    ]
    pairs = [
        (f"{a}{PAIR_SEPARATOR}{b}", f"{names[a]} and {names[b]}") for a, b in combinations(group.members, 2)
    ] if len(group.members) <= 8 else []  # fmt: skip
    leaders = {word: p for p, words in group.leads.items() for word in words}
    led = [
        (card.word, PAIR_SEPARATOR.join((str(stage), group.label, card.word)), leaders.get(card.word, ""))
        for card in cards
    ]
    return GroupLine(group.label, spoken(group.label), _bench(group), members, pairs, led)


def differs(drawn: Drawn, rows: Sequence[PupilRow]) -> str:
    """What changed on the class list since these groups were made."""
    if drawn.plan is None:
        return ""
    listed = {PupilId(r.pid) for r in rows}
    seated = set(drawn.plan.present)
    new = [r.name for r in rows if PupilId(r.pid) not in seated]
    gone = [p for p in drawn.plan.present if p not in listed]
    told = []
    if new:
        told.append(f"{joined(new)} {'is' if len(new) == 1 else 'are'} on the list but in no group.")
    if gone:
        told.append(f"{counted(len(gone), 'pupil')} left the list after these groups were made.")
    return " ".join(told)


def sat_letters(pupils: int) -> str:
    """Letters enough for groups of two and more, at most twelve."""
    return TOKEN_LETTERS[: max(2, min(len(TOKEN_LETTERS), (pupils + 2) // 3))]


def groups_sent(request: HttpRequest, rows: Sequence[PupilRow]) -> dict[str, list[PupilId]]:
    """Who sat in which group; pupils in no group were not there."""
    groups: dict[str, list[PupilId]] = {}
    for row in rows:
        letter = request.POST.get(f"sat-{row.pk}", "")
        if letter and letter in TOKEN_LETTERS:
            groups.setdefault(letter, []).append(PupilId(row.pid))
    if not groups:
        raise CannotRead(
            "Nobody sits in a group yet.", faults=[Fault("Groups", "no press", "Give each pupil a letter.")]
        )
    alone = [r.name for r in rows if any(m == [r.pid] for m in groups.values())]
    if alone:
        raise CannotRead(
            f"{joined(alone)} would sit alone.", "Give them the letter of those they sat with, or none."
        )
    return groups
