"""`benchmates ways`: the ways of working, and one of them in full."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Annotated

import typer

from benchmates.cli.exits import answering
from benchmates.cli.given import way_called
from benchmates.cli.words import folded, show_json, table
from benchmates.core.strategy.catalogue import KEYS, ways
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.sources import told as mark_told
from benchmates.core.strategy.way import Claim, Stage, Way

app = typer.Typer(help="The ways of working in groups.", no_args_is_help=False, rich_markup_mode=None)


@app.callback(invoke_without_command=True)
def list_ways(
    context: typer.Context,
    keys: Annotated[bool, typer.Option("--keys", help="The keys alone, one a line.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="One JSON object.")] = False,
) -> None:
    """List the ways of working; `benchmates ways show KEY` tells one in full."""
    if context.invoked_subcommand is not None:
        return
    if keys:
        typer.echo("\n".join(KEYS))
    elif as_json:
        show_json({"ways": [_row_object(way) for way in ways()]})
    else:
        rows = [(way.key, way.name, ", ".join(way.purposes), sizes_told(way)) for way in ways()]
        typer.echo(table(("Key", "Name", "Purpose", "Sizes"), rows, shares=(0, 3, 3, 2)))


@app.command("show")
def show(
    key: Annotated[
        str, typer.Argument(metavar="KEY", help="A key, or the file of a way of your own (.toml).")
    ],
    as_json: Annotated[bool, typer.Option("--json", help="One JSON object.")] = False,
) -> None:
    """Tell one way of working in full."""
    with answering(as_json=as_json):
        way = way_called(key)
        if as_json:
            show_json(way_object(way))
        else:
            typer.echo("\n".join(way_lines(way)))


# ---- sizes and chain in words


def sizes_told(way: Way) -> str:
    """Sizes in the order of the stages: "2, then 4"."""
    told: list[str] = []
    for stage in way.stages:
        if stage.size is not None and stage.relation is not Relation.INNER_OUTER:
            told += [size_told(stage)]
        elif stage.relation is Relation.INNER_OUTER and stage.size is not None:
            told += [f"{size_told(stage)} inside"]
    return ", then ".join(dict.fromkeys(told)) or "any"


def size_told(stage: Stage) -> str:
    """Limits of a size; one number where least and most are equal."""
    assert stage.size is not None
    size = stage.size
    return str(size.target) if size.least == size.most else f"{size.least} to {size.most}"


def _chain_line(way: Way, number: int, stage: Stage) -> str:
    parts = [stage.relation.in_words]
    if stage.of is not None and stage.relation in (Relation.RETURN, Relation.CROSS):
        parts.append(f"from “{way.stages[stage.of].name}”")
    if stage.size is not None:
        parts.append(f"{size_told(stage)} pupils, {stage.size.target} planned")
    if stage.repeat != 1:
        turns = {
            "members": "one turn fewer than the group has members",
            "stations": "one turn fewer than stations",
        }
        parts.append(turns.get(str(stage.repeat), f"{stage.repeat} turns"))
    if stage.from_pupils:
        parts.append(f"only from {stage.from_pupils} pupils up")
    parts.append(f"{_minutes(stage.minutes.least)} to {_minutes(stage.minutes.most)} minutes")
    return f"{number}. {stage.name}: {'; '.join(parts)}."


def _minutes(minutes: float) -> str:
    return f"{minutes:g}"


# ---- one way in full


def way_lines(way: Way) -> Iterator[str]:
    """A way of working as a teacher reads it before choosing."""
    yield folded(f"{way.name} ({way.key})")
    yield folded(f"For: {', '.join(way.purposes)}.")
    yield folded(_claim(way.why))
    yield from ("", "Stages")
    for number, stage in enumerate(way.stages, 1):
        yield folded(_chain_line(way, number, stage), indent="  ", hang="     ")
        if stage.question:
            yield folded(f"Question: {stage.question}", indent="     ")
        if stage.product:
            yield folded(f"Product: {stage.product}", indent="     ")
    yield from _section("Roles", _roles(way))
    yield from _section("Time", [time_told(way)])
    yield from _section("If numbers do not divide", [way.remainder])
    yield from _section("Room and kit", [way.room, *way.kit, f"Noise: {way.noise}." if way.noise else ""])
    yield from _section("Not when", way.not_when)
    yield from _section("Take care", way.cautions)
    yield from _section("How to assess", [way.assess])
    yield from _section("What is known", [_claim(claim) for claim in way.claims])
    marks = dict.fromkeys(claim.mark for claim in (way.why, *way.claims))
    yield from _section("What the marks mean", [f"[{mark}] {mark_told(mark)}" for mark in marks])


def time_told(way: Way) -> str:
    """Minutes of all stages with one turn each, and the least lesson they need where that is said."""
    least, most = sum(s.minutes.least for s in way.stages), sum(s.minutes.most for s in way.stages)
    told = f"{_minutes(least)} to {_minutes(most)} minutes for the stages, each turn counted once."
    return f"{told} Choose a lesson of {way.least_minutes} minutes or more." if way.least_minutes else told


def _claim(claim: Claim) -> str:
    return f"{claim.text} [{claim.mark}]"


def _roles(way: Way) -> list[str]:
    roles = dict.fromkeys(r for s in way.stages for r in (*s.roles, s.spare_role) if r)
    return [f"{role}: {way.job(role)}" if way.job(role) else role for role in roles]


def _section(head: str, lines: Iterable[str]) -> Iterator[str]:
    told = [line for line in lines if line]
    if told:
        yield from ("", head)
        yield from (folded(line, indent="  ", hang="    ") for line in told)


# ---- as JSON


def _row_object(way: Way) -> dict[str, object]:
    return {
        "key": way.key,
        "name": way.name,
        "purposes": [str(p) for p in way.purposes],
        "sizes": sizes_told(way),
    }


def way_object(way: Way) -> dict[str, object]:
    """One way as plain values."""
    return {
        **_row_object(way),
        "stages": [
            {
                "name": s.name,
                "relation": str(s.relation),
                "of": s.of,
                "size": [s.size.least, s.size.target, s.size.most] if s.size else None,
                "minutes": [s.minutes.least, s.minutes.planned, s.minutes.most],
                "question": s.question,
                "product": s.product,
                "roles": list(s.roles),
            }
            for s in way.stages
        ],
        "why": {"text": way.why.text, "mark": way.why.mark},
        "claims": [{"text": c.text, "mark": c.mark} for c in way.claims],
        "marks": {c.mark: mark_told(c.mark) for c in (way.why, *way.claims)},
        "not_when": list(way.not_when),
        "assess": way.assess,
        "remainder": way.remainder,
        "room": way.room,
        "kit": list(way.kit),
        "cautions": list(way.cautions),
    }
