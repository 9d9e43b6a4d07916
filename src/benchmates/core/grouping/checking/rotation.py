"""When groups stay whole, something must move on by one: the station, the paper or the role."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from benchmates.core.errors import Fault
from benchmates.core.grouping.checking.scene import Scene
from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.terms import PupilId


def rotation_faults(scene: Scene, k: int) -> list[Fault]:
    """Faults in what moves; the groups themselves have been found equal to the earlier ones."""
    stage = scene.plan.stages[k]
    assert stage.of is not None
    earlier = scene.plan.stages[stage.of]
    if any(g.station is not None for g in stage.groups):
        return _station_faults(scene, k, earlier)
    if any(g.artefact is not None for g in stage.groups):
        return _paper_faults(scene, k, earlier)
    return _role_faults(scene, k, earlier)


# ---- groups move between stations


def _station_faults(scene: Scene, k: int, earlier: StageGroups) -> list[Fault]:
    stage = scene.plan.stages[k]
    before = {g.label: g.station for g in earlier.groups}
    faults = [
        Fault(
            scene.group(k, g),
            f"it is at station {g.station or 'none'} again",
            "Each group moves on to the next.",
        )
        for g in stage.groups
        if g.station is None or g.station == before[g.label]
    ]
    crowds = Counter(g.station for g in stage.groups)
    if max(crowds.values()) > max(Counter(before.values()).values()):
        crowded = max(crowds, key=lambda s: crowds[s])
        faults.append(
            Fault(scene.stage(k), f"{crowds[crowded]} groups meet at station {crowded}", "Move on in step.")
        )
    return faults or _route_faults(scene, k)


def _route_faults(scene: Scene, k: int) -> list[Fault]:
    """One route for all: from any station everyone goes on to the same next one, in every turn."""
    leads_to: dict[str, str] = {}
    for turn, stage in enumerate(scene.plan.stages[: k + 1]):
        if stage.of is None or stage.source != scene.plan.stages[k].source:
            continue
        before = {g.label: g.station for g in scene.plan.stages[stage.of].groups}
        for group in stage.groups:
            start, end = before.get(group.label), group.station
            if start is None or end is None:
                continue
            if leads_to.setdefault(start, end) != end and turn == k:
                found = f"from station {start} it goes to {end}, others went to {leads_to[start]}"
                return [Fault(scene.group(k, group), found, "Everyone follows one route.")]
    return []


# ---- papers move between pupils


def _paper_faults(scene: Scene, k: int, earlier: StageGroups) -> list[Fault]:
    now, before = _holders(scene.plan.stages[k]), _holders(earlier)
    if set(now) != set(now.values()) or set(now) != set(scene.plan.present):
        return [
            Fault(scene.stage(k), "a paper is missing or held twice", "Everyone present holds one paper.")
        ]
    held = {paper: holder for holder, paper in before.items()}
    passes = {held[paper]: holder for holder, paper in now.items()}
    if stuck := [p for p, to in passes.items() if p == to]:
        found = f"{scene.named(stuck)} still holds the same paper"
        return [Fault(scene.stage(k), found, "Every paper is passed on.")]
    groups = [g for g in scene.plan.stages[k].groups if not _passes_round(g, passes)]
    return [
        Fault(
            scene.group(k, g),
            "its papers do not go round by one",
            "Everyone passes to the next in the group.",
        )
        for g in groups
    ] or _pass_order_faults(scene, k, passes)


def _holders(stage: StageGroups) -> dict[PupilId, PupilId]:
    """Whose paper each pupil holds; their own until papers move."""
    return {p: (g.artefact or {}).get(p, p) for g in stage.groups for p in g.members}


def _passes_round(group: Group, passes: Mapping[PupilId, PupilId]) -> bool:
    """One ring through the whole group, or papers that leave the group altogether (work on show)."""
    members = set(group.members)
    if not any(passes[p] in members for p in members):
        return True
    start = at = group.members[0]
    ring = 0
    while ring == 0 or at != start:
        at, ring = passes[at], ring + 1
        if at not in members or ring > len(members):
            return False
    return ring == len(members)


def _pass_order_faults(scene: Scene, k: int, passes: Mapping[PupilId, PupilId]) -> list[Fault]:
    """Pupils pass to the same neighbour in every turn."""
    stage = scene.plan.stages[k]
    if stage.turn == 0 or stage.of is None:
        return []
    earlier = scene.plan.stages[stage.of]
    if earlier.source != stage.source or earlier.of is None:
        return []
    held = {paper: holder for holder, paper in _holders(scene.plan.stages[earlier.of]).items()}
    last = {held[paper]: holder for holder, paper in _holders(earlier).items() if paper in held}
    if changed := [p for p, to in passes.items() if last.get(p, to) != to]:
        found = f"{scene.named(changed)} passes to somebody else than before"
        return [Fault(scene.stage(k), found, "Papers go round by one each time.")]
    return []


# ---- roles move inside a group


def _role_faults(scene: Scene, k: int, earlier: StageGroups) -> list[Fault]:
    faults = []
    for group in scene.plan.stages[k].groups:
        before = earlier.group_of(group.members[0]).roles
        if not before and not group.roles:
            faults.append(
                Fault(scene.group(k, group), "nothing moves on", "Say which station, paper or role moves.")
            )
        elif Counter(before.values()) != Counter(group.roles.values()):
            faults.append(
                Fault(scene.group(k, group), "its roles are not those of the turn before", "Roles move on.")
            )
        elif kept := _keepers(before, group.roles):
            found = f"{scene.named(kept)} keeps the same role"
            faults.append(Fault(scene.group(k, group), found, "Every role moves on to the next pupil."))
    return faults


def _keepers(before: Mapping[PupilId, str], now: Mapping[PupilId, str]) -> list[PupilId]:
    """Who keeps a role that only one in the group holds (two recorders may hand over to each other)."""
    single = {role for role, times in Counter(before.values()).items() if times == 1}
    return (
        [p for p, role in before.items() if role in single and now.get(p) == role] if len(before) > 1 else []
    )
