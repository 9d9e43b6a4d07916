"""Read a way of working from its file: the 22 of the catalogue and a teacher's own are the same kind of file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal, cast

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.strategy.chain import REFERS, dead_time, faults_in, place
from benchmates.core.strategy.fields import FORMAT, Fields, near, parse
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Card, Claim, Purpose, Stage, Way
from benchmates.core.terms import Span

KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
MARK = re.compile(r"S([1-9]|[12][0-9]|3[0-9])|M|C|K")
CARD_SHAPES = ("circle", "square", "triangle", "star", "diamond", "cross", "pentagon", "hexagon")
LONGEST_ROLE = 24
MOVES = ("pupils", "artefact", "role")


def read_way(data: bytes, *, filename: str) -> Way:
    """Read a way of working.

    Raises
    ------
    CannotRead
        With every fault at once, in the order of the file.
    """
    fields = Fields(parse(data, filename=filename), "", [])
    check_format(fields)
    way = way_from(fields, fields)
    if fields.faults or way is None:
        raise CannotRead(f"{filename} is not a way of working yet.", faults=fields.faults)
    return way


def check_format(fields: Fields) -> None:
    """Refuse a file written for another format of ours."""
    if not fields.has("format"):
        fields.fault("format", "nothing there", f"Begin the file with format = {FORMAT}.")
    found = fields.whole("format", default=FORMAT)
    if found != FORMAT:
        fields.fault("format", str(found), f"This version reads format {FORMAT} alone.")


def way_from(head: Fields, chain: Fields) -> Way | None:
    """A way whose head and whose stages stand in one table, or in two (a lesson's own chain).

    Returns None, with faults noted, where the chain cannot be read.
    """
    key = head.text("key", required=True, longest=40)
    if key and not KEY.fullmatch(key):
        head.fault("key", f'"{key}"', "Use small letters, figures and hyphens, such as pairs-to-fours.")
    name = head.text("name", required=True, longest=60)
    purposes = _purposes(head)
    why = _claim(head.inner("why"), head)
    claims = tuple(_claim(row, row) for row in head.rows("claim"))
    limits = {
        "groups_at_least": head.whole("groups_at_least", default=1, least=1, most=30),
        "stations": head.whole("stations", most=30),
        "least_minutes": head.whole("least_minutes", most=300),
    }
    words = {word: head.text(word) for word in ("assess", "remainder", "room", "noise")}
    lists = {word: head.texts(word) for word in ("not_when", "kit", "cautions")}
    jobs = _jobs(head)
    one_question_ok = head.yes("one_question_ok")
    stages = read_stages(chain, stations=limits["stations"])
    if head is chain:
        head.leftover()
    if stages is None:
        return None
    _check_jobs(head, jobs, stages)
    if head is chain and not one_question_ok:
        _check_questions(head, stages)
    return Way(
        key, name, purposes, why, stages, claims=claims, jobs=jobs, one_question_ok=one_question_ok,
        **limits, **words, **lists,  # type: ignore[arg-type]
    )  # fmt: skip


def _purposes(fields: Fields) -> tuple[Purpose, ...]:
    known = [purpose.value for purpose in Purpose]
    found = fields.texts("purposes")
    if not found:
        fields.fault("purposes", "no purpose", f"Name one or more of: {', '.join(known)}.")
    for word in found:
        if word not in known:
            fields.fault("purposes", f'"{word}" is not known', near(word, known))
    return tuple(Purpose(word) for word in dict.fromkeys(found) if word in known)


def _claim(row: Fields | None, outer: Fields) -> Claim:
    if row is None:
        outer.fault("why", "nothing there", 'Write a table [why] with text = "..." and mark = "C".')
        return Claim("", "C")
    text, mark = row.text("text", required=True), row.text("mark", default="C")
    if not MARK.fullmatch(mark):
        would_do = (
            "Write S and the number of a source read, M (from memory), C (common practice) or K (calculated)."
        )
        row.fault("mark", f'"{mark}"', would_do)
    row.leftover()
    return Claim(text, mark)


def _jobs(fields: Fields) -> tuple[tuple[str, str], ...]:
    table = fields.inner("jobs")
    if table is None:
        return ()
    return tuple((role, table.text(role, required=True, longest=200)) for role in list(table.table))


def _check_jobs(fields: Fields, jobs: tuple[tuple[str, str], ...], stages: Sequence[Stage]) -> None:
    held = {role for stage in stages for role in (*stage.roles, stage.spare_role) if role}
    for role, _ in jobs:
        if role not in held:
            would_do = near(role, sorted(held)) if held else "Leave it out."
            fields.fault(f"jobs, {role}", "no stage has this role", would_do)


def _check_questions(fields: Fields, stages: Sequence[Stage]) -> None:
    for run in dead_time(stages):
        found = f'it asks the same question as "{stages[run[0]].name}", so its time is dead'
        would_do = "Ask something harder at each size, or write one_question_ok = true."
        fields.faults.append(Fault(f"{place(stages, run[-1])}, question", found, would_do))


def read_stages(fields: Fields, *, stations: int) -> tuple[Stage, ...] | None:
    """The stages of a chain; None, with faults noted, where one cannot be read or the chain does not hang together."""
    rows = fields.rows("stage")
    if not rows:
        fields.fault("stage", "no stage", "A way has one stage or more, each a table that begins [[stage]].")
        return None
    before = len(fields.faults)
    names: list[str] = []
    stages = [_stage(row, names) for row in rows]
    if len(fields.faults) > before or any(stage is None for stage in stages):
        return None
    whole = tuple(stage for stage in stages if stage is not None)
    fields.faults.extend(faults_in(whole, stations=stations))
    return whole


def _stage(row: Fields, names: list[str]) -> Stage | None:
    """One stage; its name joins ``names``, so that a later stage may refer to it."""
    name = row.text("name", required=True, longest=40)
    relation = row.choice("relation", [relation.value for relation in Relation], required=True)
    of = _of(row, relation, names)
    if name in names:
        row.fault("name", f'"{name}" stands there twice', "Give each stage a name of its own.")
    names.append(name)
    size, minutes = row.size(), row.minutes("minutes")
    roles = row.texts("roles", longest=LONGEST_ROLE)
    stage = Stage(
        name=name, relation=Relation(relation) if relation else Relation.NEW, of=of, size=size,
        minutes=minutes or Span(0, 1, 1), cards=read_cards(row), roles=roles,
        question=row.text("question", longest=300), product=row.text("product", longest=300),
        spare_role=row.text("spare_role", longest=LONGEST_ROLE),
        repeat=_repeat(row), step=row.whole("step", default=1, least=1, most=30),
        moves=cast(Literal["pupils", "artefact", "role"], row.choice("moves", MOVES, default="pupils")),
        to_teacher=row.yes("to_teacher"), parts=row.texts("parts", longest=LONGEST_ROLE), by_part=row.yes("by_part"),
        from_pupils=row.whole("from_pupils", most=400), move=row.number("move", default=0.5, most=15),
        each=row.number("each", most=30),
    )  # fmt: skip
    row.leftover()
    return stage if relation and minutes else None


def _of(row: Fields, relation: str, names: list[str]) -> int | None:
    """Where ``of`` points, as an index: it names an earlier stage."""
    needs = bool(relation) and Relation(relation).needs_earlier
    of = row.text("of", default="")
    if not of:
        if needs:
            earlier = (
                f"Name one of: {', '.join(names)}." if names else "The first stage has nothing to refer to."
            )
            row.fault("of", f'"{relation}" needs an earlier stage and names none', earlier)
        return None
    if relation and Relation(relation) not in REFERS:
        row.fault("of", f'"{relation}" refers to no earlier stage', "Leave the line out.")
        return None
    if of not in names:
        found = f'no earlier stage is called "{of}"'
        row.fault("of", found, near(of, names) if names else "The first stage has nothing to refer to.")
        return None
    return names.index(of)


def _repeat(row: Fields) -> int | Literal["members", "stations"]:
    word = row.table.get("repeat")
    if word == "members" or word == "stations":
        row.text("repeat")
        return word
    if isinstance(word, str):
        row.text("repeat")
        row.fault("repeat", f'"{word}"', 'Write how many more turns follow, or "members", or "stations".')
        return 1
    return row.whole("repeat", default=1, least=1, most=30)


def read_cards(row: Fields) -> tuple[Card, ...]:
    """The question cards of one stage."""
    cards = []
    for card in row.rows("card"):
        word = card.text("word", required=True, longest=LONGEST_ROLE)
        question = card.text("question", required=True, longest=200)
        cards.append(Card(word, question, card.choice("shape", CARD_SHAPES)))
        card.leftover()
    return tuple(cards)
