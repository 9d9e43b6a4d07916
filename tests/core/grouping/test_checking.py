"""Plans made by hand, right and tampered with: each tampering must be found, each right plan must pass."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import replace
from itertools import chain, combinations, pairwise, permutations

import networkx as nx
import pytest

from benchmates.core.grouping.checking import faults_in, total_faults
from benchmates.core.grouping.checking.crossing import least_with_blocks
from benchmates.core.grouping.checking.must_faults import adults_needed
from benchmates.core.grouping.checking.weighing import repeats_of, weigh
from benchmates.core.grouping.result import Compromise, Group, GroupPlan, Repeat, StageGroups
from benchmates.core.grouping.wishes import Wishes
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History, Sitting
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.roster.pupil import Pupil
from benchmates.core.strategy.relation import Relation

R = Relation
OFF = Wishes({})


def class_of(letters: str, **known: dict) -> ClassList:
    """One invented pupil a letter; ``known`` gives fields by letter."""
    return ClassList(tuple(Pupil(c, f"Pupil {c}", **known.get(c, {})) for c in letters))


def groups(told: str, **more: dict) -> tuple[Group, ...]:
    """ "A:abc B:de" as groups; ``more`` gives further fields by label."""
    pairs = [word.split(":") for word in told.split()]
    return tuple(Group(label, tuple(members), **more.get(label, {})) for label, members in pairs)


def stage(relation: R, told: str, of: int | None = None, *, source: int = 0, turn: int = 0, **more: dict):
    return StageGroups(relation.value, relation, of, groups(told, **more), source, turn)


def plan_of(
    *stages: StageGroups, history: History | None = None, wishes: Wishes = OFF, **pupils: dict
) -> GroupPlan:
    """A plan whose figures agree with its groups (figures have tests of their own below)."""
    present = tuple(sorted(p for g in stages[0].groups for p in g.members))
    class_list = class_of("".join(present), **pupils)
    cost = Compromise(weigh(stages, class_list, history or History(), wishes))
    repeats = tuple(
        sorted(repeats_of(stages, class_list, history or History()), key=lambda r: (r.stage, r.pupils))
    )
    return GroupPlan("made by hand", 1, present, stages, cost, 0, False, None, "done", 0.0, repeats, ())


def found(plan: GroupPlan, *, musts: tuple[Must, ...] = (), adults: int = 1, **more) -> list[str]:
    """Faults as sentences; the class is those present."""
    more.setdefault("class_list", class_of("".join(plan.present)))
    return [str(f) for f in faults_in(plan, musts=musts, wishes=OFF, adults=adults, **more)]


# ---- relations: a chain that holds, then the same chain with the last stage tampered with

NEW = stage(R.NEW, "A:abcd B:efgh C:ijkl")
PAIRS = stage(R.NEW, "A1:ab A2:cd B1:ef B2:gh")
ALONE = "1:a 2:b 3:c 4:d 5:e 6:f 7:g 8:h"
STATIONS = {"A": {"station": "1"}, "B": {"station": "2"}, "C": {"station": "3"}}
MOVED_ON = {"A": {"station": "2"}, "B": {"station": "3"}, "C": {"station": "1"}}
TALKS = {"A": {"roles": {"a": "talker", "b": "questioner", "c": "recorder"}}}
TALKS_NEXT = {"A": {"roles": {"b": "talker", "c": "questioner", "a": "recorder"}}}

RIGHT = {
    "individual": [stage(R.INDIVIDUAL, ALONE)],
    "whole": [PAIRS, stage(R.WHOLE, "All:abcdefgh")],
    "new": [NEW],
    "same": [NEW, stage(R.SAME, "A:dcba B:efgh C:ijkl", 0)],
    "return": [NEW, stage(R.CROSS, "A:aei B:bfj C:cgk D:dhl", 0), stage(R.RETURN, "A:abcd B:efgh C:ijkl", 0)],
    "merge": [PAIRS, stage(R.MERGE, "A:abcd B:efgh", 0)],
    "merge, one stays whole": [stage(R.NEW, "A1:ab A2:cd B:efg"), stage(R.MERGE, "A:abcd B:efg", 0)],
    "split": [NEW, stage(R.SPLIT, "A1:ab A2:cd B1:ef B2:gh C1:ij C2:kl", 0)],
    "cross": [NEW, stage(R.CROSS, "A:aei B:bfj C:cgk D:dhl", 0)],
    "cross that cannot be perfect": [stage(R.NEW, "A:abc B:def"), stage(R.CROSS, "A:ade B:bcf", 0)],
    "one moves": [NEW, stage(R.ONE_MOVES, "A:abcl B:efgd C:ijkh", 0)],
    "one moves to the teacher": [NEW, stage(R.ONE_MOVES, "A:abc B:efg C:ijk Teacher:dhl", 0)],
    "one stays": [NEW, stage(R.ONE_STAYS, "A:ajkl B:ebcd C:ifgh", 0)],
    "two stay": [NEW, stage(R.ONE_STAYS, "A:abkl B:efcd C:ijgh", 0)],
    "rotate stations": [
        stage(R.NEW, "A:abcd B:efgh C:ijkl", **STATIONS),
        stage(R.ROTATE, "A:abcd B:efgh C:ijkl", 0, source=1, **MOVED_ON),
    ],
    "rotate papers": [
        stage(R.NEW, "A:abc"),
        stage(R.ROTATE, "A:abc", 0, source=1, A={"artefact": {"a": "c", "b": "a", "c": "b"}}),
        stage(R.ROTATE, "A:abc", 1, source=1, turn=1, A={"artefact": {"a": "b", "b": "c", "c": "a"}}),
    ],
    "rotate roles": [stage(R.NEW, "A:abc", **TALKS), stage(R.ROTATE, "A:abc", 0, source=1, **TALKS_NEXT)],
    "rotate roles, two recorders": [
        stage(R.NEW, "A:abcd", A={"roles": {"a": "talker", "b": "questioner", "c": "recorder", "d": "recorder"}}),
        stage(R.ROTATE, "A:abcd", 0, A={"roles": {"b": "talker", "c": "questioner", "d": "recorder", "a": "recorder"}}),
    ],
    "inner and outer": [
        stage(R.INNER_OUTER, "Inner:ab Outer:cde"),
        stage(R.INNER_OUTER, "Inner:cd Outer:abe", source=1),
    ],
}  # fmt: skip

WRONG = {
    "individual": (-1, "1:ab 3:c 4:d 5:e 6:f 7:g 8:h", "works alone"),
    "whole": (-1, "A:abcd B:efgh", "whole class sits together"),
    "new": (-1, "A:abcde B:fghijk C:l", "sits alone"),
    "same": (-1, "A:abce B:dfgh C:ijkl", "Keep the earlier groups whole"),
    "return": (-1, "A:efgh B:abcd C:ijkl", "not the group it was in"),
    "merge": (-1, "A:abce B:dfgh", "joined without Pupil d"),
    "merge, one stays whole": (-1, "A:abe B:cdfg", "joined without"),
    "split": (-1, "A1:ae A2:cd B1:bf B2:gh C1:ij C2:kl", "come from more than one group"),
    "cross": (-1, "A:abe B:ifj C:cgk D:dhl", "together again"),
    "cross that cannot be perfect": (-1, "A:abc B:def", "2 would do"),
    "one moves": (-1, "A:ablk B:efgd C:ijch", "Exactly one leaves"),
    "one moves to the teacher": (-1, "A:abc B:efg C:ij Teacher:dhlk", "Exactly one leaves"),
    "one stays": (-1, "A:abcl B:efjk C:dghi", "the rest move on"),
    "two stay": (-1, "A:jkl B:efabcd C:igh", "nobody stayed"),
    "rotate stations": (-1, "A:abce B:dfgh C:ijkl", "Keep the earlier groups whole"),
    "rotate papers": (-1, "A:ab B:c", "Keep the earlier groups"),
    "rotate roles": (-1, "A:ab B:c", "Keep the earlier groups"),
    "inner and outer": (-1, "Inner:ab Outer:cde", "was in an inner ring before"),
}


@pytest.mark.parametrize("name", RIGHT)
def test_a_plan_that_holds_has_no_faults(name: str) -> None:
    assert found(plan_of(*RIGHT[name])) == []


@pytest.mark.parametrize("name", WRONG)
def test_a_stage_that_breaks_its_relation_is_named(name: str) -> None:
    stages = list(RIGHT[name])
    at, told, says = WRONG[name]
    stages[at] = replace(stages[at], groups=groups(told))
    faults = found(plan_of(*stages))
    assert any(says in fault for fault in faults), faults
    assert all(fault.startswith(f"stage {len(stages)} “") for fault in faults), faults


def test_labels_must_stay_with_their_home_place() -> None:
    for relation, told in ((R.ONE_MOVES, "X:abcl B:efgd C:ijkh"), (R.ONE_STAYS, "X:ajkl B:ebcd C:ifgh")):
        assert "A label stays with its home place" in found(plan_of(NEW, stage(relation, told, 0)))[0]


def test_a_relation_to_no_earlier_stage_is_named() -> None:
    for of in (None, 1, 7):
        assert "follows no earlier stage" in found(plan_of(NEW, stage(R.SAME, "A:abcd B:efgh C:ijkl", of)))[0]


@pytest.mark.parametrize(
    ("moved_on", "says"),
    [
        ({"A": {"station": "1"}, "B": {"station": "3"}, "C": {"station": "2"}}, "at station 1 again"),
        ({"A": {"station": "2"}, "B": {"station": "1"}, "C": {"station": "1"}}, "meet at station 1"),
        ({"A": {"station": "2"}, "B": {"station": "3"}, "C": {}}, "at station none"),
    ],
)
def test_stations_that_do_not_move_on_are_named(moved_on: dict, says: str) -> None:
    first = stage(R.NEW, "A:abcd B:efgh C:ijkl", **STATIONS)
    second = stage(R.ROTATE, "A:abcd B:efgh C:ijkl", 0, source=1, **moved_on)
    assert any(says in fault for fault in found(plan_of(first, second)))


def test_a_second_turn_by_another_route_is_named() -> None:
    back = {"A": {"station": "1"}, "B": {"station": "2"}, "C": {"station": "3"}}
    turns = [*RIGHT["rotate stations"], stage(R.ROTATE, "A:abcd B:efgh C:ijkl", 1, source=1, turn=1, **back)]
    assert "Everyone follows one route" in found(plan_of(*turns))[0]


@pytest.mark.parametrize(
    ("papers", "says"),
    [
        ({"a": "a", "b": "c", "c": "b"}, "still holds the same paper"),
        ({"a": "c", "b": "c", "c": "b"}, "held twice"),
    ],
)
def test_papers_that_do_not_go_round_are_named(papers: dict, says: str) -> None:
    turned = stage(R.ROTATE, "A:abc", 0, source=1, A={"artefact": papers})
    assert any(says in fault for fault in found(plan_of(stage(R.NEW, "A:abc"), turned)))


def test_papers_that_turn_back_are_named() -> None:
    first, second, _ = RIGHT["rotate papers"]
    back = stage(R.ROTATE, "A:abc", 1, source=1, turn=1, A={"artefact": {"a": "a", "b": "b", "c": "c"}})
    assert "go round by one" in found(plan_of(first, second, back))[0]


def test_papers_in_two_rings_are_named() -> None:
    swapped = {"a": "b", "b": "a", "c": "d", "d": "c"}
    turned = stage(R.ROTATE, "A:abcd", 0, A={"artefact": swapped})
    assert "do not go round by one" in found(plan_of(stage(R.NEW, "A:abcd"), turned))[0]


def test_a_role_that_stays_is_named() -> None:
    kept = {"A": {"roles": {"a": "talker", "c": "questioner", "b": "recorder"}}}
    faults = found(plan_of(stage(R.NEW, "A:abc", **TALKS), stage(R.ROTATE, "A:abc", 0, **kept)))
    assert "Pupil a keeps the same role" in faults[0]


def test_a_rotation_in_which_nothing_moves_is_named() -> None:
    assert "nothing moves on" in found(plan_of(stage(R.NEW, "A:abc"), stage(R.ROTATE, "A:abc", 0)))[0]


# ---- people


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ("A:abc B:efgh C:ijkl", "Pupil d sits in no group"),
        ("A:abcd B:defgh C:ijkl", "Pupil d sits more than once"),
        ("A:abcdz B:efgh C:ijkl", "z sits here, yet is not present"),
        ("A:abcd A:efgh C:ijkl", "2 groups are called A"),
        ("A:abcd B:efgh C:ijkl D:", "nobody sits in it"),
    ],
)
def test_who_sits_nowhere_or_twice_is_named(told: str, says: str) -> None:
    plan = plan_of(NEW)
    plan = replace(plan, stages=(NEW, replace(NEW, groups=groups(told))))
    assert any(says in fault for fault in found(plan))


def test_present_is_compared_with_the_class_and_with_who_is_away() -> None:
    plan = plan_of(NEW)
    whole = class_of("abcdefghijklm")
    assert found(plan, class_list=whole) == []
    assert found(plan, class_list=whole, absent=frozenset("m")) == []
    assert "it leaves out Pupil m" in found(plan, class_list=whole, absent=frozenset())[0]
    assert "Pupil a sits in it, yet is away" in found(plan, class_list=whole, absent=frozenset("am"))[0]
    assert "l is present but not in the class list" in found(plan, class_list=class_of("abcdefghijk"))[0]


def test_only_members_hold_roles_cards_and_papers() -> None:
    for what in ({"roles": {"e": "scribe"}}, {"leads": {"e": ("fit",)}}, {"artefact": {"e": "a"}}):
        assert "sits elsewhere" in found(plan_of(stage(R.NEW, "A:abcd B:efgh", A=what)))[0]


# ---- musts


def test_apart_and_together_are_checked_in_every_stage_that_keeps_musts() -> None:
    stages = [PAIRS, stage(R.MERGE, "A:abcd B:efgh", 0), stage(R.WHOLE, "All:abcdefgh")]
    assert (
        found(plan_of(*stages), musts=(Must(Kind.APART, ("a", "e")), Must(Kind.TOGETHER, ("a", "b")))) == []
    )
    apart = found(plan_of(*stages), musts=(Must(Kind.APART, ("a", "c")),))
    assert apart == ["stage 2 “merge”: Pupil a and Pupil c are together. They must be apart."]
    together = found(plan_of(*stages), musts=(Must(Kind.TOGETHER, ("a", "c")),))
    assert together == ["stage 1 “new”: Pupil a and Pupil c are not together. They must be together."]


def test_somebody_away_is_left_out_of_musts() -> None:
    musts = (
        Must(Kind.TOGETHER, ("a", "z")),
        Must(Kind.APART, ("z", "b")),
        Must(Kind.FIXED, ("z",), where="group A"),
    )
    assert found(plan_of(NEW), musts=musts, class_list=class_of("abcdefghijklz")) == []


def test_an_adult_reaches_two_neighbouring_groups() -> None:
    near = (Must(Kind.NEAR_ADULT, ("a", "e")), Must(Kind.NEAR_ADULT, ("i",)))
    assert "too far apart for 1 adult" in found(plan_of(NEW), musts=near)[0]
    assert found(plan_of(NEW), musts=near, adults=2) == []
    assert found(plan_of(NEW), musts=near[:1]) == []


def test_adults_needed_agrees_with_trying_every_set_of_places() -> None:
    """Against brute force over all places where one, two or three adults could stand."""
    places = [{g, g + 1} for g in range(6)]
    for needed in chain.from_iterable(combinations(range(7), k) for k in range(8)):
        enough = [k for k in range(5) if any(set(needed) <= set().union(*c) for c in combinations(places, k))]
        assert adults_needed(needed) == min(enough)


@pytest.mark.parametrize(
    ("where", "holds"),
    [
        ("group A", True), ("A", True), ("group B", False), ("bench 3", True), ("3", True), ("bench 4", False),
        ("role scribe", True), ("Scribe", True), ("role chair", False), ("group Q", False), ("role judge", True),
        ("judge", False),
    ],
)  # fmt: skip
def test_fixed_places_are_checked_as_the_teacher_wrote_them(where: str, holds: bool) -> None:
    more = {
        "A": {"bench": "3", "roles": {"a": "scribe", "b": "chair"}},
        "B": {"bench": "bench 4", "roles": {"e": "scribe", "f": "chair"}},
    }
    faults = found(
        plan_of(stage(R.NEW, "A:abcd B:efgh", **more)), musts=(Must(Kind.FIXED, ("a",), where=where),)
    )
    assert (faults == []) is holds


def test_a_pupil_fixed_in_a_group_sits_in_its_parts_too() -> None:
    nested = (PAIRS, stage(R.MERGE, "A:abcd B:efgh", 0))
    assert found(plan_of(*nested), musts=(Must(Kind.FIXED, ("c",), where="group A"),)) == []
    assert found(plan_of(*nested), musts=(Must(Kind.FIXED, ("c",), where="A2"),)) == []
    assert len(found(plan_of(*nested), musts=(Must(Kind.FIXED, ("c",), where="group B"),))) == 2


def test_a_pupil_fixed_without_a_place_keeps_one_bench() -> None:
    first = stage(R.NEW, "A:abcd B:efgh", A={"bench": "1"}, B={"bench": "2"})
    moved = stage(R.CROSS, "A:abef B:cdgh", 0, A={"bench": "1"}, B={"bench": "2"})
    plan = plan_of(first, moved)
    assert found(plan, musts=(Must(Kind.FIXED, ("a", "g")),)) == []
    assert "Pupil c sits at benches 1, 2" in found(plan, musts=(Must(Kind.FIXED, ("c",)),))[0]
    benches = class_of("abcdefgh", a={"bench": "1"}, g={"bench": "1"})
    assert found(plan, musts=(Must(Kind.FIXED, ("a",)),), class_list=benches) == []
    assert (
        "Pupil g is not at bench 1" in found(plan, musts=(Must(Kind.FIXED, ("g",)),), class_list=benches)[0]
    )


def test_musts_cannot_apply_where_pupils_go_round_on_their_own() -> None:
    own = {str(k + 1): {"station": str(k + 1)} for k in range(8)}
    on = {str(k + 1): {"station": str((k + 1) % 8 + 1)} for k in range(8)}
    gallery = (stage(R.INDIVIDUAL, ALONE, **own), stage(R.ROTATE, ALONE, 0, source=1, **on))
    musts = (Must(Kind.TOGETHER, ("a", "b")), Must(Kind.FIXED, ("a",), where="2"))
    assert found(plan_of(*gallery), musts=musts) == []


# ---- a cross with musts


def test_pupils_who_stay_together_may_repeat_in_a_cross_and_nobody_else() -> None:
    together = (Must(Kind.TOGETHER, ("a", "b")),)
    right = [NEW, stage(R.CROSS, "A:abe B:cfi C:dgj D:hkl", 0)]
    assert "1 pair together again" not in found(plan_of(*right), musts=together)
    # c and d come from a's home as well, and could be parted
    wrong = [NEW, stage(R.CROSS, "A:abe B:cdf C:gij D:hkl", 0)]
    assert "together again" in found(plan_of(*wrong), musts=together)[0]
    assert "together again" in found(plan_of(*right))[0]


def test_a_cross_that_other_musts_force_to_repeat_passes() -> None:
    # One adult reaches two of three groups, so a, b and c from one home cannot all be parted: two pairs repeat.
    near = (Must(Kind.NEAR_ADULT, ("a", "b", "c")),)
    homes = stage(R.NEW, "A:abc B:def C:ghi")
    fewest = plan_of(homes, stage(R.CROSS, "A:abd B:ceg C:fhi", 0))
    assert found(fewest, musts=near) == []
    assert "2 pairs together again" in found(fewest)[0]
    more = plan_of(homes, stage(R.CROSS, "A:abd B:cgh C:efi", 0))
    assert "3 pairs together again" in found(more, musts=near)[0]


def test_the_fewest_repeats_agree_with_a_flow_of_networkx() -> None:
    """Against networkx.network_simplex: one arc of rising cost for each further pupil from the same home."""
    chance = random.Random(2)

    def cut(pupils: int) -> list[int]:
        sizes: list[int] = []
        while pupils:
            sizes.append(min(pupils, chance.randint(1, 6)))
            pupils -= sizes[-1]
        return sizes

    for _ in range(60):
        pupils = chance.randint(2, 24)
        homes, sizes = cut(pupils), cut(pupils)
        net = nx.MultiDiGraph()
        for h, size in enumerate(homes):
            net.add_node(("home", h), demand=-size)
            for g in range(len(sizes)):
                for already in range(size):
                    net.add_edge(("home", h), ("group", g), capacity=1, weight=already)
        for g, size in enumerate(sizes):
            net.add_node(("group", g), demand=size)
        ids = iter(range(pupils))
        people = [frozenset(str(next(ids)) for _ in range(size)) for size in homes]
        assert least_with_blocks(people, sizes, []) == nx.network_simplex(net)[0]


def test_the_fewest_repeats_with_a_block_agree_with_every_seating() -> None:
    """Against brute force over all seatings of eight pupils."""
    homes = [frozenset("abc"), frozenset("def"), frozenset("gh")]
    home_of = {p: h for h, home in enumerate(homes) for p in home}
    for sizes, block in (([3, 3, 2], "ab"), ([2, 2, 2, 2], "ab"), ([4, 4], "ad"), ([3, 3, 2], "abc")):
        least = 99
        for order in permutations("abcdefgh"):
            cuts = [sum(sizes[:k]) for k in range(len(sizes) + 1)]
            seated = [order[s:e] for s, e in pairwise(cuts)]
            if any(set(block) <= set(group) for group in seated):
                counts = [[home_of[p] for p in group] for group in seated]
                repeats = sum(c.count(h) * (c.count(h) - 1) // 2 for c in counts for h in range(3))
                least = min(least, repeats)
        assert least_with_blocks(homes, sizes, [frozenset(block)]) == (0 if least == 99 else least), (
            sizes,
            block,
        )


# ---- figures


MET = History(
    tuple(
        Sitting(dt.date(2026, 9, 1), "Fours", g, p)
        for g, p in (("A", "a"), ("A", "b"), ("A", "e"), ("B", "c"))
    )
)
FULL = {
    "a": {"attainment": 60, "gender": "F", "works_well_with": ("e",)},
    "b": {"attainment": 41, "gender": "F", "eal": True},
    "c": {"attainment": 50, "gender": "M"},
    "d": {"gender": "F"},
    "e": {"attainment": 40, "gender": "M"},
    "f": {"gender": "M", "works_well_with": ("z",)},
    "g": {"attainment": 55, "gender": "F"},
    "h": {"gender": "M"},
}


def test_the_compromise_is_worked_out_by_hand() -> None:
    """Worked by hand from the formulas of the wishes.

    Mean of 60, 41, 50, 40, 55 is 49.2, so m = 49. A: 11 - 8 + 1 = 4; B: -9 + 6 = 3. Genders: A 3 girls, 1 boy, so
    1; B 1 girl, 3 boys, so 1. a named e, who is in B: 1. Only ones: in A, c (boy) and b (EAL); in B, g (girl).
    Met before: a and b, once (e sits in B).
    """
    stages = (stage(R.NEW, "A:abcd B:efgh"),)
    wishes = Wishes({"new_partners": 10, "attainment": 1, "gender": 4, "works_well": 8, "lone": 6})
    assert weigh(stages, class_of("abcdefgh", **FULL), MET, wishes) == (
        {"new_partners": 10, "attainment": 7, "gender": 8, "works_well": 8, "lone": 18},
    )


def test_meetings_within_the_lesson_count_only_where_they_could_be_parted() -> None:
    """By hand: pairs ab, cd; fours hold them again (not free to part); the cross has ab once more, met twice."""
    stages = (
        stage(R.NEW, "A1:ab A2:cd B1:ef B2:gh"),
        stage(R.MERGE, "A:abcd B:efgh", 0),
        stage(R.CROSS, "A:abef B:cdgh", 1),
    )
    present = class_of("abcdefgh")
    again = {(r.pupils, r.stage, r.before, r.today) for r in repeats_of(stages, present, History())}
    assert again == {
        (("a", "b"), 2, 0, 2), (("c", "d"), 2, 0, 2), (("e", "f"), 2, 0, 2), (("g", "h"), 2, 0, 2),
    }  # fmt: skip
    assert weigh(stages, present, History(), Wishes({"new_partners": 5})) == ({}, {}, {"new_partners": 40})


def test_one_who_moves_is_charged_for_the_pairs_made_only() -> None:
    """By hand: of the pairs that d makes in B (de, df, dg) and h makes in A (ah, bh, ch), e has met d before."""
    met = History((Sitting(dt.date(2026, 9, 1), "x", "1", "d"), Sitting(dt.date(2026, 9, 1), "x", "1", "e")))
    stages = (stage(R.NEW, "A:abcd B:efgh"), stage(R.ONE_MOVES, "A:abch B:efgd", 0))
    wishes = Wishes({"new_partners": 10, "gender": 5, "lone": 5})
    assert weigh(stages, class_of("abcdefgh"), met, wishes)[1] == {"new_partners": 10}


def test_the_whole_class_and_single_pupils_cost_nothing() -> None:
    wishes = Wishes.usual()
    for told in ("A:abcdefgh", ALONE):
        assert weigh((stage(R.NEW, told),), class_of("abcdefgh", **FULL), MET, wishes) == ({},)


def right_figures() -> tuple[GroupPlan, dict]:
    stages = (stage(R.NEW, "A:abcd B:efgh"),)
    plan = plan_of(*stages, history=MET, wishes=Wishes.usual(), **FULL)
    return plan, {"class_list": class_of("abcdefgh", **FULL), "history": MET, "wishes": Wishes.usual()}


def test_right_figures_have_no_faults() -> None:
    plan, given = right_figures()
    assert plan.compromise.total > 0
    assert faults_in(plan, **given) == ()
    assert total_faults(plan, total=plan.compromise.total, by_wish=plan.compromise.by_wish) == []


def test_figures_that_were_tampered_with_are_named() -> None:
    plan, given = right_figures()
    (cost,) = plan.compromise.by_stage
    wishes = {wish: replace(plan, compromise=Compromise(({**cost, wish: cost[wish] + 1},))) for wish in cost}
    for wish, tampered in wishes.items():
        (fault,) = faults_in(tampered, **given)
        assert f"the plan says {cost[wish] + 1}, these groups cost {cost[wish]}" == fault.found
    assert faults_in(replace(plan, compromise=Compromise(())), **given) != ()
    assert "given as 0" in total_faults(plan, total=0, by_wish=plan.compromise.by_wish)[0].found
    assert (
        "given as 3" in total_faults(plan, total=plan.compromise.total, by_wish={**cost, "lone": 3})[0].found
    )


def test_repeats_that_were_tampered_with_are_named() -> None:
    plan, given = right_figures()
    assert plan.repeats == (Repeat(("a", "b"), 0, 1, 0),)
    turned = (Repeat(("b", "a"), 0, 1, 0),)
    assert faults_in(replace(plan, repeats=turned), **given) == ()
    for repeats in ((), (Repeat(("a", "b"), 0, 2, 0),), (*plan.repeats, Repeat(("a", "c"), 5, 1, 0))):
        assert faults_in(replace(plan, repeats=repeats), **given) != ()


def test_how_we_know_is_believed_only_when_bound_and_cost_meet() -> None:
    plan, given = right_figures()
    total = plan.compromise.total
    (no_prices,) = faults_in(replace(plan, bound=total, proved=True), **given)
    assert "no prices are given" in no_prices.found
    # Prices of nought hold for every plan and show nothing; the rest was searched.
    sizes = {str(len(g.members)): 0.0 for g in plan.stages[0].groups}
    nought = {
        "stage": 0,
        "within": None,
        "pupils": dict.fromkeys(plan.present, 0.0),
        "sizes": sizes,
        "near_adult": 0.0,
    }
    plan = replace(plan, certificate={"kind": "prices", "bound": 0, "searched": True, "stages": [nought]})
    assert faults_in(replace(plan, bound=total, proved=True), **given) == ()
    (above,) = faults_in(replace(plan, bound=total + 1), **given)
    assert "this one costs" in above.found
    (open_gap,) = faults_in(replace(plan, bound=total - 3, proved=True), **given)
    assert "one that does by 3 is not ruled out" in open_gap.found
