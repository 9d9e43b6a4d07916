"""What was achieved, what was not and why, in a teacher's sentences."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from benchmates.core.grouping.cost import is_counted, mean_attainment, two_genders
from benchmates.core.grouping.fixed import Fixing
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import GroupPlan, StageGroups
from benchmates.core.grouping.search.local import Found
from benchmates.core.grouping.seats import Layout
from benchmates.core.grouping.stop import TIME_UP
from benchmates.core.grouping.wishes import NAMES, WORDS
from benchmates.core.roster.musts import Kind
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.sizes import least_repeats
from benchmates.core.terms import PupilId, Told, counted, joined


def sentences(
    plan: GroupPlan, request: Request, layout: Layout, fixing: Fixing, found: Found
) -> tuple[Told, ...]:
    """Sentences for the teacher, the most important first, each with whether it was met; staff-only."""
    return (
        *_overall(plan, found),
        *_musts(plan, request, layout),
        *_wishes(plan, request),
        *_crosses(plan, request, layout),
        *_short_homes(plan, request),
        *_turns(plan, request),
        *map(Told, layout.shape.told),
        *fixing.told,
        *_away(request),
        *_wishes_off(request),
    )


def _overall(plan: GroupPlan, found: Found) -> Iterator[Told]:
    if not any(is_counted(s) for s in plan.stages) and any(s.relation.is_counted for s in plan.stages):
        yield Told("Everyone fits into one group, so there is nothing to weigh.")
    elif not any(is_counted(s) for s in plan.stages):
        yield Told("Nothing is weighed in this way of working: places go round by turns.")
    elif plan.proved and not plan.compromise.total:
        yield Told("No plan does better: every wish is met.")
    elif plan.proved:
        yield Told(
            f"No plan does better: compromise {plan.compromise.total}, and within your musts none scores better."
        )
    elif plan.bound * 4 >= plan.compromise.total * 3:
        more = plan.compromise.total - plan.bound
        yield Told(f"Compromise {plan.compromise.total}: none can do better by more than {more}.")
    elif found.stopped_because == TIME_UP:
        yield Told(
            f"Compromise {plan.compromise.total}. Time was up before the search had finished; it may find better."
        )
    else:
        yield Told(
            f"Compromise {plan.compromise.total}. The search found none better; it has not shown that there is none."
        )


def _musts(plan: GroupPlan, request: Request, layout: Layout) -> Iterator[Told]:
    here = frozenset(plan.present)
    held = [
        m
        for m in request.musts
        if len(here & set(m.pupils)) >= (2 if m.kind in (Kind.APART, Kind.TOGETHER) else 1)
    ]
    if held:
        yield Told(f"All {counted(len(held), 'must')} hold." if len(held) > 1 else "The one must holds.")
    if any(s.is_alone and s.planned.relation.keeps_musts for s in layout.stages) and held:
        yield Told("Where pupils go round on their own, musts about partners cannot apply.", met=False)


def _wishes(plan: GroupPlan, request: Request) -> Iterator[Told]:
    names = request.class_list.names()
    by_wish = plan.compromise.by_wish
    counted_stages = sum(is_counted(s) for s in plan.stages)
    if not counted_stages:
        return
    on = [w for w in NAMES if w not in dict(_off(request)) and _weighs(request, w)]
    if "new_partners" in on:
        yield _met_before(plan, names)
    if "works_well" in on and not by_wish["works_well"]:
        yield Told("Everyone who named somebody is with one of them.")
    elif "works_well" in on:
        without = _without_partner(plan, request)
        yield Told(f"{_who(without, names)} {_lacked(counted_stages)}.", met=False)
    if "lone" in on and not by_wish["lone"]:
        yield Told("Nobody is the only one of a kind in a group.")
    elif "lone" in on:
        yield Told(
            "In some groups somebody is the only one of a gender, of EAL or of supported pupils.",
            met=False,
        )
    if "attainment" in on:
        yield Told(_balance(plan, request))
    if "gender" in on and by_wish["gender"]:
        yield Told("Some groups have two or more pupils more of one gender than of the other.", met=False)


def _lacked(stages: int) -> str:
    if stages == 1:
        return "could not be with someone they work well with"
    return "could not be with someone they work well with in one stage or more"


def _who(ids: list[PupilId], names: dict[PupilId, str]) -> str:
    if len(ids) <= 4:
        return joined([names[p] for p in ids])
    return f"{len(ids)} pupils"


def _met_before(plan: GroupPlan, names: dict[PupilId, str]) -> Told:
    if not plan.repeats:
        return Told("Nobody is with an earlier partner where groups are new.")
    pairs = {r.pupils for r in plan.repeats}
    if len(pairs) <= 3:
        said = joined([f"{names[a]} and {names[b]}" for a, b in sorted(pairs)], last="and also")
        return Told(f"{counted(len(pairs), 'pair')} of earlier partners meet again: {said}.", met=False)
    return Told(f"{len(pairs)} pairs of earlier partners meet again.", met=False)


def _without_partner(plan: GroupPlan, request: Request) -> list[PupilId]:
    here = frozenset(plan.present)
    return [
        p.id
        for p in request.present
        if here & set(p.works_well_with)
        and any(
            not set(s.group_of(p.id).members) & set(p.works_well_with)
            for s in plan.stages
            if is_counted(s) and not s.relation.one_goes
        )
    ]


def _balance(plan: GroupPlan, request: Request) -> str:
    mean = mean_attainment(request.present)
    assert mean is not None
    pupils = {p.id: p for p in request.present}
    widest = 0.0
    for stage in plan.stages:
        if is_counted(stage) and not stage.relation.one_goes:
            for group in stage.groups:
                marks = [a for p in group.members if (a := pupils[p].attainment) is not None]
                widest = max([widest, *([abs(sum(marks) / len(marks) - mean)] if marks else [])])
    return f"Prior attainment: no group's mean is further than {widest:.0f} from the class's {mean}."


def _crosses(plan: GroupPlan, request: Request, layout: Layout) -> Iterator[Told]:
    names = request.class_list.names()
    kept = {
        frozenset(pair)
        for m in request.musts
        if m.kind is Kind.TOGETHER
        for pair in combinations(m.pupils, 2)
    }
    for stage in plan.stages:
        if stage.relation is not Relation.CROSS or stage.of is None:
            continue
        again = met_in_cross(plan.stages, stage)
        mates = [pair for pair in again if frozenset(pair) in kept]
        for a, b in mates:
            yield Told(
                f"{names[a]} and {names[b]} are kept together, so they stay partners in “{stage.name}”.",
                met=False,
            )
        others = len(again) - len(mates)
        least = least_repeats(
            [len(g.members) for g in plan.stages[stage.of].groups], [len(g.members) for g in stage.groups]
        )
        if not others:
            yield Told(f"“{stage.name}” parts all {'other ' if mates else ''}partners.")
        elif others <= least:
            yield Told(
                f"{counted(others, 'pair')} of partners meet again in “{stage.name}”: these sizes allow no fewer.",
                met=False,
            )
        else:
            yield Told(f"{counted(others, 'pair')} of partners meet again in “{stage.name}”.", met=False)


def met_in_cross(stages: tuple[StageGroups, ...], cross: StageGroups) -> list[tuple[PupilId, PupilId]]:
    """Pairs who share a group in a cross and in the stage that it crosses."""
    if cross.of is None:
        return []
    before = {p: g.label for g in stages[cross.of].groups for p in g.members}
    return [(a, b) for g in cross.groups for a, b in combinations(g.members, 2) if before[a] == before[b]]


def _short_homes(plan: GroupPlan, request: Request) -> Iterator[Told]:
    """Homes of a jigsaw in which nobody is expert in some part."""
    for stage in plan.stages:
        led = [{w for words in g.leads.values() for w in words} for g in stage.groups]
        if stage.relation is not Relation.NEW or not _by_part(request, stage.source):
            continue
        every = set().union(*led)
        for group, words in zip(stage.groups, led, strict=True):
            if every - words:
                missing = joined(sorted(every - words))
                yield Told(
                    f"Group {group.label} has nobody for {missing}: give it that sheet ready made, "
                    "or let one pupil take two parts.",
                    met=False,
                )


def _by_part(request: Request, source: int) -> bool:
    return any(s.by_part and s.of == source for s in request.lesson.way.stages)


def _turns(plan: GroupPlan, request: Request) -> Iterator[Told]:
    """Where roles go round but a group has more pupils than turns, say who does not have the first role."""
    turned = [s for s in plan.stages if s.relation is Relation.ROTATE and any(g.roles for g in s.groups)]
    if not turned:
        return
    of = turned[0].of
    assert of is not None
    stages = [plan.stages[of], *turned]
    way = request.lesson.way.stages[turned[0].source]
    if way.moves != "role" or not request.lesson.way.stages[stages[0].source].roles:
        return
    first = request.lesson.way.stages[stages[0].source].roles[0]
    has = {p for s in stages for g in s.groups for p, r in g.roles.items() if r == first}
    names = request.class_list.names()
    without = [p for g in stages[0].groups for p in g.members if p in g.roles and p not in has]
    if without:
        yield Told(
            f"{_who(without, names)} will not be {first} in {len(stages)} turns: "
            "add a turn, or hear them in feedback.",
            met=False,
        )


def _away(request: Request) -> Iterator[Told]:
    names = request.class_list.names()
    for must in request.musts:
        gone = [names[p] for p in must.pupils if p in request.absent]
        if gone:
            verb, whom = ("is", "this pupil") if len(gone) == 1 else ("are", "them")
            kind = str(must.kind).replace("_", " ")
            yield Told(f"{joined(gone)} {verb} away, so a must ({kind}) leaves {whom} out.")


def _wishes_off(request: Request) -> Iterator[Told]:
    """Wishes that weigh something but have no data to go by, in one sentence."""
    off = [(WORDS[wish], why) for wish, why in _off(request) if _weighs(request, wish)]
    if len(off) == 1:
        yield Told(f"The wish for {off[0][0]} is off: {off[0][1]}.", met=False)
    elif off:
        yield Told(
            f"{len(off)} wishes are off for want of data: {'; '.join(f'{name} ({why})' for name, why in off)}.",
            met=False,
        )


def _weighs(request: Request, wish: str) -> bool:
    return bool(request.wishes.weights.get(wish)) or any(
        w.get(wish) for w in request.wishes.by_stage.values()
    )


def _off(request: Request) -> list[tuple[str, str]]:
    present = request.present
    off: list[tuple[str, str]] = []
    if mean_attainment(present) is None:
        off.append(("attainment", "no prior attainment is recorded"))
    if two_genders(present) is None:
        off.append(("gender", "fewer than two genders are recorded"))
    if not any(p.works_well_with for p in present):
        off.append(("works_well", "nobody has named anybody"))
    if not any(p.gender is not None or p.eal or p.adult_support for p in present):
        off.append(("lone", "no gender, EAL or support is recorded"))
    return off
