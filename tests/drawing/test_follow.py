"""One pupil's lesson in words, checked by hand against the sample lessons."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings

from benchmates.core.terms import PupilId
from benchmates.drawing.drawn import Drawing
from benchmates.drawing.follow import follow_data, follow_list, follow_options
from benchmates.drawing.key import key
from tests.drawing import plans
from tests.drawing.lessons import SAMPLES


def said(name: str, pupil: str) -> list[tuple[str, str]]:
    return [(at, what.replace("\u00a0", " ")) for at, what in follow_list(SAMPLES[name](), PupilId(pupil))]


def test_snowball_names_partners_and_job() -> None:
    drawing = SAMPLES["snowball"]()
    four = drawing.stages[2].groups[0]
    first, *others = four.members
    steps = dict(said("snowball", first))
    names = [drawing.names[p] for p in others]

    assert steps["09:14"] == "Think: alone"
    assert steps["09:23"] == f"Fours choose: A1 Arch with {', '.join(names[:-1])} and {names[-1]}; chair"


def test_envoy_goes_and_hosts_stay() -> None:
    homes = SAMPLES["envoys"]().stages[0].groups
    envoy, host = homes[0].members[0], homes[0].members[1]

    assert said("envoys", envoy)[1][1].startswith("Envoys visit: goes to B Block with ")
    assert said("envoys", host)[1][1].startswith("Envoys visit: stays at A Arch with ")


def test_ring_carousel_and_critique_say_where() -> None:
    assert said("fishbowl", SAMPLES["fishbowl"]().stages[0].groups[0].members[0])[:2] == [
        ("09:16", "Fishbowl, turn 1: in the inner ring"),
        ("09:24", "Fishbowl, turn 2: in the outer ring"),
    ]
    carousel = SAMPLES["carousel"]()
    assert " at Station 2 with " in said("carousel", carousel.stages[1].groups[0].members[0])[1][1]
    owner = SAMPLES["fishbowl"]().stages[5].groups[0].artefact
    assert owner is not None
    works = SAMPLES["fishbowl"]().names[owner[PupilId("p00")]]
    assert said("fishbowl", "p00")[5] == ("10:17", f"Critique, turn 1: at {works}'s work")


def test_work_alone_is_said_once() -> None:
    assert said("fishbowl", "p00")[4] == ("10:01", "Sketch alone")


def test_gallery_names_whose_work_stands_at_a_numbered_place() -> None:
    drawing = SAMPLES["gallery"]()
    first, second = (drawing.stages[0].groups[k].members[0] for k in (0, 1))

    assert [what for _, what in said("gallery", first)[:2]] == [
        "Lay out your work: alone",
        f"Visit, turn 1: at {drawing.names[second]}'s work",
    ]
    assert said("gallery", first)[-1][1] == "Respond: alone"


def test_lesson_without_a_start_counts_minutes() -> None:
    assert [at for at, _ in said("market", "p00")] == ["0 min", "11 min", "17 min", "21 min"]


@settings(max_examples=30, deadline=None)
@given(plans.any_lesson())
def test_every_pupil_has_a_step_for_every_stage(drawing: Drawing) -> None:
    data = json.loads(json.dumps(follow_data(drawing)))
    staged = [s for s in drawing.slots if s.stage is not None and not s.is_move]

    assert list(data) == list(drawing.ids)
    assert all(len(told["steps"]) == len(staged) for told in data.values())
    assert {p: told["name"] for p, told in data.items()} == drawing.names


def test_options_are_in_the_order_of_names() -> None:
    options = follow_options(SAMPLES["envoys"]())

    assert [name for _, name in options] == sorted(name for _, name in options) and len(options) == 20


@pytest.mark.parametrize(("name", "has"), [("fishbowl", True), ("snowball", False)])
def test_key_holds_only_what_is_drawn(name: str, has: bool) -> None:
    assert ("outer ring" in key(SAMPLES[name]())) is has
