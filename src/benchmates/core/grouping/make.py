"""Make groups for every stage of a lesson at once.

request -> shape (sizes, planned backwards) -> seats -> numbers -> search -> groups, roles, what was achieved
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from benchmates.core.errors import CannotGroup, CannotPlan
from benchmates.core.grouping import explain
from benchmates.core.grouping.arrange import INNER, arrange, tidy
from benchmates.core.grouping.cannot_hold import Clash, smallest_clash, told_clash
from benchmates.core.grouping.certificate import certificate
from benchmates.core.grouping.cost import compromise, repeats
from benchmates.core.grouping.exact.bound import Bounded, bounded, compile_proofs_ahead
from benchmates.core.grouping.exact.musts import Answer, look
from benchmates.core.grouping.fixed import Fixing, anchored_groups, settle
from benchmates.core.grouping.problem import Problem, set_up
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import GroupPlan, StageGroups
from benchmates.core.grouping.rota import Rota
from benchmates.core.grouping.search.local import Found, compile_ahead, energy, search
from benchmates.core.grouping.search.numbers import Ints
from benchmates.core.grouping.seats import Layout, lay_out
from benchmates.core.grouping.stop import Deadline
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.strategy.shape import Shape, plan_shape
from benchmates.core.terms import unmet_in

Progress = Callable[[float], None]


def make_groups(request: Request, progress: Progress | None = None) -> GroupPlan:
    """Compose the groups of every stage together.

    Parameters
    ----------
    request
        Class, lesson, musts, history, wishes, who is away, seed and seconds.
    progress
        Called with the share done, from 0 to 1.

    Raises
    ------
    CannotPlan
        The way, the size, or a named place cannot be had with those present.
    CannotGroup
        The musts cannot all hold; ``clash`` is a smallest set that cannot hold together.
    """
    ready()  # before the clock starts: compiling is no part of the search
    deadline = Deadline(request.seconds)
    shape = plan_shape(
        request.lesson.way, len(request.present), size=request.lesson.size, sizes=request.sizes
    )
    musts = musts_of_those_present(request)
    layout, fixing = _settled(shape, musts, request.present)
    problem = set_up(request, layout, fixing, musts)
    found = seat(problem, request, layout, musts, deadline, progress)
    known = bounded(problem.numbers, found.occ, deadline=deadline)
    occ = found.occ
    if known.groups is not None:
        if len(problem.tracked) == 1:
            shape = with_sizes(shape, problem.tracked[0], known.groups)
            layout, fixing = _settled(shape, musts, request.present)
            problem = set_up(request, layout, fixing, musts)
        occ = found.occ.copy()
        occ[layout.stages[problem.tracked[0]].seating] = [p for group in known.groups for p in group]
    occ = _share_moves(tidy(_with_rings(occ, layout, request), layout), problem, request)
    stages = arrange(occ, layout, fixing, problem.ids, Rota(request.history.roles_held(), seed=request.seed))
    return finished(request, layout, fixing, stages, found, known, problem, seconds=deadline.spent)


def _settled(shape: Shape, musts: Sequence[Must], present: ClassList) -> tuple[Layout, Fixing]:
    """Seats, and what the fixed musts come to on them; whoever cannot leave a bench keeps the stall there."""
    layout = lay_out(shape)
    fixing = settle(musts, layout, present)
    anchored = anchored_groups(fixing, musts, layout, present)
    if anchored:
        layout = lay_out(shape, anchored)
        fixing = settle(musts, layout, present)
    return layout, fixing


def ready() -> None:
    """Compile what is to be compiled, or fetch it from its cache: some seconds once on a machine."""
    compile_ahead()
    compile_proofs_ahead()


def with_sizes(shape: Shape, made: int, groups: Sequence[Sequence[int]]) -> Shape:
    """The same shape with the sizes of one grouping, and of the stages that keep it, in the order of these groups."""
    sizes = tuple(len(g) for g in groups)
    keeps, stages = {made}, list(shape.stages)
    for k, stage in enumerate(stages):
        if stage.of in keeps and stage.relation.keeps_groups:
            keeps.add(k)
        if k in keeps:
            stages[k] = replace(stage, sizes=sizes)
    return replace(shape, stages=tuple(stages))


def musts_of_those_present(request: Request) -> tuple[Must, ...]:
    """The musts less those who are away; a pair of whom one is away says nothing."""
    here = frozenset(request.present.ids)
    least = {Kind.APART: 2, Kind.TOGETHER: 2}
    kept = (replace(m, pupils=tuple(dict.fromkeys(p for p in m.pupils if p in here))) for m in request.musts)
    return tuple(m for m in kept if len(m.pupils) >= least.get(m.kind, 1))


def seat(
    problem: Problem,
    request: Request,
    layout: Layout,
    musts: Sequence[Must],
    deadline: Deadline,
    progress: Progress | None = None,
) -> Found:
    """Search; where the search leaves a must broken, decide exactly whether it can hold, and begin again from there."""
    found = search(problem.numbers, seed=request.seed, deadline=deadline, progress=progress)
    if not found.broken:
        return found
    looked = look(problem.numbers)
    if looked.answer is Answer.CLASHES:
        raise _refusal(request, layout, musts)
    if looked.occ is None:
        raise CannotGroup(
            "No groups were found in which all the musts hold, and it could not be shown that there are none.",
            "Ease a must, or choose larger groups.",
        )
    return search(problem.numbers, seed=request.seed, deadline=deadline, start=looked.occ, progress=progress)


def _refusal(request: Request, layout: Layout, musts: Sequence[Must]) -> CannotGroup:
    present = request.present

    def clashes(some: Sequence[Must]) -> bool:
        if not some:
            return False
        try:
            fixing = settle(some, layout, present)
        except CannotPlan:
            return True
        return look(set_up(request, layout, fixing, some).numbers).answer is Answer.CLASHES

    clash = smallest_clash(musts, clashes)
    told = told_clash(clash, layout, present, request.lesson.adults)
    return CannotGroup(*told, clash=[Clash(m) for m in clash])


# ---- what the wishes leave open


def _with_rings(occ: Ints, layout: Layout, request: Request) -> Ints:
    """Seat the rings of a fishbowl: first those who have been inside least, ties by the seed."""
    chance = np.random.default_rng(request.seed)
    inside = [
        sum(s.group == INNER and s.pupil == p for s in request.history.sittings) for p in request.present.ids
    ]
    seated = occ.copy()
    for stage in layout.stages:
        if stage.seating in layout.unweighed:
            n = occ.shape[1]
            order = chance.permutation(n)
            seated[stage.seating] = (
                sorted(order, key=lambda p: inside[p]) if stage.places == (None, None) else order
            )
    return seated


def _share_moves(occ: Ints, problem: Problem, request: Request) -> Ints:
    """Let whoever has moved (or stayed) least do it, where the wishes do not mind."""
    held = request.history.roles_held()
    for stage in problem.layout.stages:
        if not stage.planned.relation.one_goes or not stage.planned.stage.roles:
            continue
        role, f = stage.planned.stage.roles[0], stage.seating
        taken = {s for other in problem.layout.stages if other is not stage for s in other.movers}
        homes = problem.layout.stages[stage.root if stage.planned.of is None else stage.planned.of]
        for group in homes.groups:
            mover = next(s for s in group if s in stage.movers)
            for other in (s for s in group if s != mover and s not in taken):
                times = [held[problem.ids[int(occ[f, s])], role] for s in (mover, other)]
                changed = occ.copy()
                changed[f, [mover, other]] = occ[f, [other, mover]]
                if times[1] < times[0] and energy(problem.numbers, changed) == energy(problem.numbers, occ):
                    occ = changed
    return occ


# ---- the result


def finished(
    request: Request,
    layout: Layout,
    fixing: Fixing,
    stages: tuple[StageGroups, ...],
    found: Found,
    known: Bounded,
    problem: Problem,
    *,
    seconds: float,
) -> GroupPlan:
    """Weigh the groups with the referee and say what was achieved."""
    present = request.present
    meetings = request.history.meetings(present.ids)
    cost = compromise(stages, present=present, meetings=meetings, wishes=request.wishes)
    again = repeats(stages, present=present, meetings=meetings)
    bound = min(known.bound, cost.total)
    plan = GroupPlan(
        way=request.lesson.way.key,
        seed=request.seed,
        present=present.ids,
        stages=stages,
        compromise=cost,
        bound=bound,
        proved=bound == cost.total,
        certificate=certificate(known, problem),
        stopped_because=found.stopped_because,
        seconds=seconds,
        repeats=again,
        told=(),
    )
    told = explain.sentences(plan, request, layout, fixing, found)
    return replace(plan, told=tuple(t.text for t in told), unmet=unmet_in(told))
