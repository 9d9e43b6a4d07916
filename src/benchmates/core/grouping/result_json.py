"""Group plans as JSON, and back; the format is in ``docs/reference``."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.grouping.result import FORMAT, Compromise, Group, GroupPlan, Repeat, StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId


def as_json(plan: GroupPlan) -> dict[str, Any]:
    """One object of plain values, in a fixed order of keys."""
    return {
        "format": FORMAT,
        "way": plan.way,
        "seed": plan.seed,
        "present": list(plan.present),
        "stages": [_stage(s) for s in plan.stages],
        "compromise": {
            "total": plan.compromise.total,
            "by_wish": plan.compromise.by_wish,
            "by_stage": [
                {"stage": s.name, "total": sum(costs.values()), "by_wish": dict(costs)}
                for s, costs in zip(plan.stages, plan.compromise.by_stage, strict=True)
            ],
        },
        "bound": plan.bound,
        "proved": plan.proved,
        "certificate": plan.certificate,
        "stopped_because": plan.stopped_because,
        "seconds": round(plan.seconds, 3),
        "repeats": [
            {"pupils": list(r.pupils), "stage": r.stage, "before": r.before, "today": r.today}
            for r in plan.repeats
        ],
        "told": list(plan.told),
        "unmet": list(plan.unmet),
    }


def _stage(stage: StageGroups) -> dict[str, Any]:
    return {
        "name": stage.name,
        "relation": str(stage.relation),
        "of": stage.of,
        "source": stage.source,
        "turn": stage.turn,
        "groups": [_group(g) for g in stage.groups],
    }


def _group(group: Group) -> dict[str, Any]:
    shown: dict[str, Any] = {"label": group.label, "bench": group.bench, "station": group.station}
    if group.artefact is not None:
        shown["artefact"] = dict(group.artefact)
    shown |= {"members": list(group.members), "roles": dict(group.roles)}
    if group.leads:
        shown["leads"] = {p: list(words) for p, words in group.leads.items()}
    return shown


def read_plan(data: bytes, *, filename: str = "plan") -> GroupPlan:
    """Read a plan written by :func:`as_json`.

    Raises
    ------
    CannotRead
        Not JSON, another format, or a part missing.
    """
    try:
        found = json.loads(data)
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError):
        raise _cannot(filename, "this is not a plan, or it is damaged") from None
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise _cannot(filename, "this is not a plan of format 1")
    try:
        return _plan(found)
    except (LookupError, TypeError, ValueError, ArithmeticError, AttributeError):
        raise _cannot(filename, "a part of the plan is missing or of the wrong kind") from None


def _cannot(filename: str, found: str) -> CannotRead:
    fault = Fault(filename, found, "Write it again with `benchmates group ... --json`.")
    return CannotRead(str(fault), faults=[fault])


def _plan(found: Mapping[str, Any]) -> GroupPlan:
    by_stage = found["compromise"]["by_stage"]
    return GroupPlan(
        way=str(found["way"]),
        seed=int(found["seed"]),
        present=tuple(PupilId(str(p)) for p in found["present"]),
        stages=tuple(
            StageGroups(
                name=str(s["name"]),
                relation=Relation(s["relation"]),
                of=None if s["of"] is None else int(s["of"]),
                groups=tuple(_read_group(g) for g in s["groups"]),
                source=int(s.get("source", k)),
                turn=int(s.get("turn", 0)),
            )
            for k, s in enumerate(found["stages"])
        ),
        compromise=Compromise(tuple({str(w): int(c) for w, c in s["by_wish"].items()} for s in by_stage)),
        bound=int(found["bound"]),
        proved=bool(found["proved"]),
        certificate=found["certificate"],
        stopped_because=str(found["stopped_because"]),
        seconds=float(found["seconds"]),
        repeats=tuple(
            Repeat(
                (PupilId(r["pupils"][0]), PupilId(r["pupils"][1])),
                int(r["stage"]),
                int(r["before"]),
                int(r["today"]),
            )
            for r in found["repeats"]
        ),
        told=tuple(str(t) for t in found["told"]),
        unmet=tuple(int(k) for k in found.get("unmet", ())),
    )


def _read_group(found: Mapping[str, Any]) -> Group:
    artefact = found.get("artefact")
    return Group(
        label=str(found["label"]),
        members=tuple(PupilId(str(p)) for p in found["members"]),
        bench=None if found.get("bench") is None else str(found["bench"]),
        station=None if found.get("station") is None else str(found["station"]),
        artefact=None if artefact is None else {PupilId(a): PupilId(b) for a, b in artefact.items()},
        roles={PupilId(p): str(r) for p, r in found.get("roles", {}).items()},
        leads={PupilId(p): tuple(words) for p, words in found.get("leads", {}).items()},
    )
