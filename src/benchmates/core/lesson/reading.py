"""Read a lesson file: a way of the catalogue with the lesson's own questions, or a chain of the teacher's own."""

from __future__ import annotations

from dataclasses import replace

from benchmates.core.errors import CannotRead
from benchmates.core.lesson.plan import (
    LONGEST_BELL,
    SHORTEST_BELL,
    Lesson,
    Part,
    Priority,
    refuse_dead_time,
    usual_parts,
)
from benchmates.core.strategy.catalogue import KEYS, way
from benchmates.core.strategy.chain import base, faults_in
from benchmates.core.strategy.fields import Fields, near, parse
from benchmates.core.strategy.reading import LONGEST_ROLE, check_format, read_cards, read_stages, way_from
from benchmates.core.strategy.way import Claim, Purpose, Stage, Way

# Keys by which a lesson makes a stage of the catalogue its own.
OWN_KEYS = (
    "question", "product", "card", "minutes", "size", "roles", "spare_role", "move", "each", "parts",
)  # fmt: skip


def read_lesson(data: bytes, *, filename: str) -> Lesson:
    """Read a lesson.

    Raises
    ------
    CannotRead
        With every fault at once.
    CannotPlan
        Growing groups would be asked one question over and over, and the file does not say ``insists = true``.
    """
    fields = Fields(parse(data, filename=filename), "", [])
    check_format(fields)
    title = fields.text("title", required=True, longest=80)
    bell = _bell(fields)
    start, date = fields.time("start"), fields.date("date")
    room, class_name = fields.text("room", longest=60), fields.text("class_name", longest=60)
    purpose = fields.choice("purpose", [purpose.value for purpose in Purpose])
    size = fields.whole("size", least=2, most=60) or None
    adults = fields.whole("adults", default=1, least=1, most=20)
    insists = fields.yes("insists")
    lesson_way = _way(fields, title, Purpose(purpose) if purpose else None)
    parts = _parts(fields, lesson_way, bell)
    fields.leftover()
    if fields.faults or lesson_way is None:
        raise CannotRead(f"{filename} is not a lesson yet.", faults=fields.faults)
    lesson = Lesson(
        title, lesson_way, parts, bell, start=start, date=date, room=room, class_name=class_name,
        purpose=Purpose(purpose) if purpose else None, size=size, adults=adults, insists=insists,
    )  # fmt: skip
    refuse_dead_time(lesson)
    return lesson


def _bell(fields: Fields) -> int:
    if not fields.has("bell"):
        fields.fault("bell", "nothing there", "Write how many minutes the lesson has: bell = 60.")
    return fields.whole("bell", default=60, least=SHORTEST_BELL, most=LONGEST_BELL)


# ---- the way of working


def _way(fields: Fields, title: str, purpose: Purpose | None) -> Way | None:
    """The way of the catalogue that ``way`` names, or the chain that stands in the file."""
    head = fields.inner("own_way")
    if not fields.has("way"):
        chain = _chain_alone(fields, title, purpose) if head is None else way_from(head, fields)
        if head is not None:
            head.leftover()
        return chain
    key = fields.text("way", required=True)
    if head is not None:
        fields.fault("own_way", "the file names a way and carries one too", "Keep one of the two.")
    if key not in KEYS:
        fields.fault("way", f'there is no way of working called "{key}"', near(key, KEYS))
        fields.rows("stage")
        fields.whole("stations")
        return None
    return _made_own(fields, way(key))


def plain_head(title: str, purpose: Purpose | None, stages: tuple[Stage, ...], stations: int = 0) -> Way:
    """The way of a lesson that only lists its stages: it carries the lesson's title and no claims."""
    return Way(
        key="own", name=title, purposes=(purpose,) if purpose else (), why=Claim("A chain of stages of your own.", "C"),
        stages=stages, not_when=(), assess="", remainder="", room="", stations=stations,
    )  # fmt: skip


def _chain_alone(fields: Fields, title: str, purpose: Purpose | None) -> Way | None:
    stations = fields.whole("stations", most=30)
    stages = read_stages(fields, stations=stations)
    return None if stages is None else plain_head(title, purpose, stages, stations)


def _made_own(fields: Fields, catalogued: Way) -> Way | None:
    """A way of the catalogue with the questions, minutes and sizes that the lesson gives its stages."""
    before = len(fields.faults)
    stations = fields.whole(
        "stations", default=catalogued.stations, least=2 if catalogued.stations else 0, most=30
    )
    stages = list(catalogued.stages)
    names = [stage.name for stage in stages]
    seen: set[str] = set()
    for row in fields.rows("stage"):
        name = row.text("name", required=True)
        if name in names and name not in seen:
            index = names.index(name)
            stages[index] = _stage_made_own(row, stages[index])
        elif name:
            found = "it stands there twice" if name in seen else f'"{catalogued.name}" has no such stage'
            row.fault("name", found, near(name, names))
            for key in OWN_KEYS:
                row.table.pop(key, None)
        seen.add(name)
        row.leftover()
    stages = _share_parts(stages, catalogued)
    if len(fields.faults) > before:
        return None
    fields.faults.extend(faults_in(stages, stations=stations))
    return replace(catalogued, stages=tuple(stages), stations=stations)


def _stage_made_own(row: Fields, stage: Stage) -> Stage:
    changed: dict[str, object] = {}
    for key in ("question", "product"):
        if row.has(key):
            changed[key] = row.text(key, longest=300)
    if row.has("spare_role"):
        changed["spare_role"] = row.text("spare_role", longest=LONGEST_ROLE)
    for key in ("roles", "parts"):
        if row.has(key):
            changed[key] = row.texts(key, longest=LONGEST_ROLE)
    if row.has("card"):
        changed["cards"] = read_cards(row)
    for key, most in (("move", 15.0), ("each", 30.0)):
        if row.has(key):
            changed[key] = row.number(key, most=most)
    if row.has("minutes"):
        changed["minutes"] = row.minutes("minutes") or stage.minutes
    if row.has("size"):
        changed["size"] = row.size()
    return replace(stage, **changed)  # type: ignore[arg-type]


def _share_parts(stages: list[Stage], catalogued: Way) -> list[Stage]:
    """In a jigsaw, parts named at one stage stand at the home and at the expert stage alike."""
    named = [new.parts for new, old in zip(stages, catalogued.stages, strict=True) if new.parts != old.parts]
    if not named:
        return stages
    shared = {
        k for i, s in enumerate(stages) if s.by_part and s.of is not None for k in (i, base(stages, s.of))
    }
    return [
        replace(stage, parts=named[0]) if i in shared and stage.parts == catalogued.stages[i].parts else stage
        for i, stage in enumerate(stages)
    ]


# ---- the parts on the clock


def _parts(fields: Fields, lesson_way: Way | None, bell: int) -> tuple[Part, ...]:
    rows = fields.rows("part")
    if not rows:
        return usual_parts(lesson_way, bell) if lesson_way is not None else ()
    stages = lesson_way.stages if lesson_way is not None else None
    parts = [_part(row, stages) for row in rows]
    if stages is not None and all(part is not None for part in parts):
        _check_order(fields, [part for part in parts if part is not None], stages)
    return tuple(part for part in parts if part is not None)


def _part(row: Fields, stages: tuple[Stage, ...] | None) -> Part | None:
    stage = _stage_of(row, stages)
    carried = stages[stage] if stages is not None and stage is not None else None
    named = carried is None or row.has("name")
    name = row.text("name", required=named, default=carried.name if carried else "", longest=60)
    minutes = row.minutes("minutes", required=carried is None) or (carried.minutes if carried else None)
    each = row.number("each", default=carried.each if carried else 0.0, most=30) or None
    never_cut = row.yes("never_cut")
    priority = Priority(
        row.choice("priority", [word.value for word in Priority], default=Priority.MUST.value)
    )
    row.leftover()
    return (
        None
        if minutes is None
        else Part(name, minutes, stage, never_cut=never_cut, priority=priority, each=each)
    )


def _stage_of(row: Fields, stages: tuple[Stage, ...] | None) -> int | None:
    if stages is None:  # the chain is faulty already: what a part says of it cannot be judged
        row.table.pop("stage", None)
        row.table.setdefault("name", "a stage")
        row.table.setdefault("minutes", 1)
        return None
    names = [stage.name for stage in stages]
    name = row.choice("stage", names)
    return names.index(name) if name else None


def _check_order(fields: Fields, parts: list[Part], stages: tuple[Stage, ...]) -> None:
    carried = [part.stage for part in parts if part.stage is not None]
    for index, stage in enumerate(stages):
        if carried.count(index) != 1:
            found = f'"{stage.name}" stands in {"no part" if index not in carried else "more than one part"}'
            fields.fault("part", found, f'Give it one [[part]] with stage = "{stage.name}".')
    if carried != sorted(carried):
        fields.fault("part", "the stages are out of order", "Put the parts in the order of the stages.")
