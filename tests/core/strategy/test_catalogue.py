"""The 22 ways: complete, marked, in plain words, and cut to every usual class."""

from __future__ import annotations

import re
from importlib import resources

import pytest

from benchmates.core.errors import CannotPlan
from benchmates.core.strategy import sources
from benchmates.core.strategy.catalogue import KEYS, way, ways, write_way
from benchmates.core.strategy.chain import dead_time
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.strategy.way import Purpose, Way

# Chains as published guidance describes them (sources beside the claims of each way); sizes are common practice,
# no source.
CHAINS = {
    "pair-talk": "new2",
    "think-pair-share": "individual new2 whole",
    "buzz-groups": "new3 whole",
    "pairs-to-fours": "new2 merge4",
    "snowball": "individual new2 merge4 merge8 whole",
    "listening-triads": "new3 rotate",
    "envoys": "new4 one_moves return",
    "rainbow-groups": "new4 cross4",
    "jigsaw": "new4 cross4 return",
    "spokesperson": "new4 whole",
    "round-robin": "new5",
    "carousel": "new4 rotate",
    "market-place": "new4 one_stays one_stays return",
    "fishbowl": "inner_outer5 inner_outer5 whole",
    "role-cards": "new4 same",
    "brainwriting": "new6 rotate",
    "pass-on-sketching": "new4 rotate return",
    "critique-gallery": "individual rotate return",
    "design-teams": "new4 same same",
    "consensus-ranking": "individual new2 merge4 individual",
    "production-line": "new6 rotate",
    "skill-cascade": "new4 one_moves return",
}


@pytest.mark.parametrize("key", KEYS)
def test_a_way_has_its_chain(key: str) -> None:
    found = " ".join(f"{s.relation.value}{s.size.target if s.size else ''}" for s in way(key).stages)

    assert found == CHAINS[key]


def test_the_catalogue_keeps_its_order_and_reads_each_file_once() -> None:
    assert tuple(way.key for way in ways()) == KEYS == tuple(CHAINS)
    assert way("jigsaw") is way("jigsaw")


@pytest.mark.parametrize("one", ways(), ids=lambda way: way.key)
def test_every_claim_carries_a_mark_that_says_what_stands_behind_it(one: Way) -> None:
    for claim in (one.why, *one.claims):
        assert claim.text.endswith(".")
        assert claim.mark in {*sources.KINDS, *sources.SOURCES}


@pytest.mark.parametrize("one", ways(), ids=lambda way: way.key)
def test_a_way_says_what_a_teacher_asks_of_it(one: Way) -> None:
    assert (
        one.purposes and one.assess and one.remainder and one.room and one.noise and one.not_when and one.kit
    )
    held = {role for stage in one.stages for role in (*stage.roles, stage.spare_role) if role}
    assert {role for role, _ in one.jobs} == held
    assert all(stage.question and stage.product for stage in one.stages)


@pytest.mark.parametrize("one", ways(), ids=lambda way: way.key)
def test_no_two_stages_that_regroup_ask_the_same(one: Way) -> None:
    asked = [stage.question for stage in one.stages if stage.relation is not Relation.ROTATE]

    assert len(set(asked)) == len(asked)
    assert dead_time(one.stages) == ()


@pytest.mark.parametrize("one", ways(), ids=lambda way: way.key)
def test_pupils_words_are_short(one: Way) -> None:
    """Sentences of at most fourteen words: a usual limit for a reading age of eleven, common practice, no source."""
    for stage in one.stages:
        for sentence in re.split(r"[.?!:]", f"{stage.question} {stage.product}"):
            assert len(sentence.split()) <= 14, sentence


@pytest.mark.parametrize("one", ways(), ids=lambda way: way.key)
def test_where_everyone_walks_the_way_warns_of_live_machines(one: Way) -> None:
    """The furthest moves carry the caution of the trade: nobody walks while heat, blades or machines are live."""
    walks = {Relation.ONE_MOVES, Relation.ONE_STAYS, Relation.CROSS}
    if any(stage.relation in walks and not (stage.to_teacher or stage.by_part) for stage in one.stages):
        assert re.search("machine|hot", " ".join(one.cautions))


@pytest.mark.parametrize("purpose", Purpose)
def test_each_purpose_has_two_ways_or_more(purpose: Purpose) -> None:
    assert sum(purpose in one.purposes for one in ways()) >= 2


@pytest.mark.parametrize("one", ways(), ids=lambda way: way.key)
def test_a_way_is_cut_to_every_usual_class(one: Way) -> None:
    impossible = {"snowball": {19, 20}}  # eights of seven to nine: 2 x 9 < 19, 20 < 3 x 7, by arithmetic

    refused = set()
    for pupils in range(16, 33):
        try:
            plan_shape(one, pupils)
        except CannotPlan:
            refused.add(pupils)

    assert refused == impossible.get(one.key, set())


@pytest.mark.parametrize("key", KEYS)
def test_a_file_stands_as_it_would_be_written(key: str) -> None:
    file = resources.files("benchmates.core.strategy") / "ways" / f"{key}.toml"

    assert file.read_text(encoding="utf-8") == write_way(way(key))


def test_an_unknown_key_is_refused_with_the_likely_one() -> None:
    with pytest.raises(CannotPlan) as trouble:
        way("jigsaws")

    assert trouble.value.told == ('There is no way of working called "jigsaws".', 'Did you mean "jigsaw"?')


def test_marks_are_told_in_words() -> None:
    assert sources.told("S1").startswith("DfES (2004)")
    assert sources.told("C") == "Common practice; no claim of proof."
    assert sources.told("S39") == "Source S39."
