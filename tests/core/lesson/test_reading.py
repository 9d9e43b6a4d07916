"""Lesson files: read, told all faults of, and written again."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmates.core.errors import CannotPlan, CannotRead
from benchmates.core.lesson.plan import Lesson, Part, Priority, lesson_for
from benchmates.core.lesson.reading import read_lesson
from benchmates.core.lesson.writing import write_lesson
from benchmates.core.strategy.catalogue import KEYS, way
from benchmates.core.strategy.way import Purpose, Size, Way
from tests.core.strategy.chains import cards, spans, ways, words

EXAMPLES = Path(__file__).parents[3] / "examples"
HEAD = 'format = 1\ntitle = "Lesson"\nbell = 60\n'


def read(text: str) -> Lesson:
    return read_lesson(text.encode(), filename="lesson.toml")


def faults(text: str) -> list[str]:
    with pytest.raises(CannotRead) as trouble:
        read(text)
    return [str(fault) for fault in trouble.value.faults]


def test_the_least_lesson_is_a_title_a_way_and_a_bell() -> None:
    assert read(HEAD + 'way = "jigsaw"') == lesson_for(way("jigsaw"), title="Lesson", bell=60)


def test_a_lesson_gives_the_stages_of_a_way_their_own_questions() -> None:
    lesson = read(
        HEAD
        + 'way = "pairs-to-fours"\nstart = "10:25"\ndate = 2027-03-04\nroom = "Workshop 2"\nadults = 2\nsize = 4\n'
        '[[stage]]\nname = "Fours"\nquestion = "Which stand?"\nminutes = [4, 5, 6]\nroles = ["scribe"]\n'
    )

    assert lesson.way.stages[0] == way("pairs-to-fours").stages[0]
    assert (lesson.way.stages[1].question, lesson.way.stages[1].roles) == ("Which stand?", ("scribe",))
    assert lesson.parts[4].minutes.planned == 5
    assert (lesson.start, lesson.date, lesson.adults) == (dt.time(10, 25), dt.date(2027, 3, 4), 2)


def test_parts_named_at_one_stage_of_a_jigsaw_stand_at_both() -> None:
    lesson = read(
        HEAD + 'way = "jigsaw"\n[[stage]]\nname = "Home groups"\nparts = ["Fit", "Finish", "Use", "Cost"]\n'
    )

    assert [stage.parts for stage in lesson.way.stages] == [("Fit", "Finish", "Use", "Cost")] * 2 + [()]


def test_a_chain_of_its_own_needs_no_way() -> None:
    lesson = read(HEAD + '[[stage]]\nname = "Threes"\nrelation = "new"\nsize = [3, 3, 4]\nminutes = 10\n')

    assert (lesson.way.key, lesson.way.name, len(lesson.way.stages)) == ("own", "Lesson", 1)


def test_every_fault_is_told_at_once() -> None:
    assert faults(
        'format = 1\nway = "jigsaws"\nbell = 5\nstart = "half past"\nsize = 1\npurpose = "fun"\n'
        '[[part]]\nname = "Start"\nminutes = [3, 2, 1]\npriority = "later"\n'
    ) == [
        'title: nothing there. Write title = "...".',
        "bell: 5. Write a whole number from 10 to 300.",
        'start: "half past". Write start = "10:25", in hours and minutes.',
        'purpose: "fun". Use one of: generate, compare and decide, evaluate products, learn content, '
        "listen and explain, share findings, improve work, make.",
        "size: 1. Write a whole number from 2 to 60.",
        'way: there is no way of working called "jigsaws". Did you mean "jigsaw"?',
        "part 1 (Start), minutes: [3, 2, 1] is out of order. The least comes first, then planned, then the most.",
        'part 1 (Start), priority: "later". Use one of: must, should, could.',
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            'way = "snowball"\n[[stage]]\nname = "Foors"\nsize = 4\n',
            'stage 1 (Foors), name: "Snowball" has no',
        ),
        (
            'way = "snowball"\n[[stage]]\nname = "Fours"\nrelation = "new"\n',
            'stage 1 (Fours), "relation": this key is',
        ),
        (
            'way = "jigsaw"\n[[stage]]\nname = "Home groups"\nparts = ["A", "B"]\n',
            "stage 2 (Expert groups), parts: 2",
        ),
        ("", "stage: no stage"),
        ('way = "jigsaw"\n[own_way]\nkey = "x"\n', "own_way: the file names a way and carries one too"),
        ('way = "pair-talk"\n[[part]]\nname = "Register"\nminutes = 4\n', 'part: "Pairs" stands in no part'),
        (
            'way = "pair-talk"\n[[part]]\nstage = "Pairs"\n[[part]]\nstage = "Pairs"\n',
            'part: "Pairs" stands in more than one part',
        ),
        (
            'way = "pairs-to-fours"\n[[part]]\nstage = "Fours"\n[[part]]\nstage = "Pairs"\n',
            "part: the stages are out of order",
        ),
        ('way = "pair-talk"\n[[part]]\nstage = "Pears"\n', 'part 1, stage: "Pears"'),
        ('way = "pair-talk"\nlenght = 3\n', '"lenght": this key is not known here'),
        ('way = "carousel"\nstations = 1\n', "stations: 1. Write a whole number from 2 to 30"),
    ],
)
def test_a_lesson_that_does_not_hang_together_is_refused(text: str, told: str) -> None:
    assert faults(HEAD + text)[0].startswith(told)


def test_one_question_at_every_size_is_refused_unless_the_file_insists() -> None:
    stage = '[[stage]]\nname = "{}"\nquestion = "{}"\n'
    text = 'way = "pairs-to-fours"\n{}' + stage.format("Pairs", "Which?") + stage.format("Fours", " which")

    with pytest.raises(CannotPlan, match="dead time"):
        read(HEAD + text.format(""))

    assert read(HEAD + text.format("insists = true\n")).insists


texts = st.one_of(st.just(""), words)
usual = st.fixed_dictionaries(
    {
        "title": words, "bell": st.integers(10, 300), "room": texts, "class_name": texts, "adults": st.integers(1, 20),
        "start": st.none() | st.times(), "date": st.none() | st.dates(),
        "purpose": st.none() | st.sampled_from(Purpose),
        "size": st.none() | st.integers(2, 60), "insists": st.just(True),
    }
)  # fmt: skip


@st.composite
def own_parts(draw: st.DrawFn, lesson: Lesson) -> tuple[Part, ...]:
    parts = []
    for part in lesson.parts:
        changed = replace(
            part, minutes=draw(spans), each=draw(st.none() | st.integers(1, 8).map(lambda q: q / 4)),
            never_cut=draw(st.booleans()), priority=draw(st.sampled_from(Priority)), name=draw(words),
        )  # fmt: skip
        parts.append(draw(st.sampled_from([part, changed])))
    return tuple(parts)


@given(ways(), usual, st.data())
@settings(max_examples=60, deadline=None)
def test_a_lesson_with_a_chain_of_its_own_is_the_same_when_written_and_read(
    own: Way, head: dict[str, object], data: st.DataObject
) -> None:
    lesson = lesson_for(own, **head)  # type: ignore[arg-type]
    lesson = replace(lesson, parts=data.draw(own_parts(lesson)))

    assert read(write_lesson(lesson)) == lesson


@given(st.sampled_from(KEYS), usual, st.data())
@settings(max_examples=100, deadline=None)
def test_a_lesson_of_the_catalogue_is_the_same_when_written_and_read(
    key: str, head: dict[str, object], data: st.DataObject
) -> None:
    stages = list(way(key).stages)
    at = data.draw(st.integers(0, len(stages) - 1))
    size = stages[at].size
    stages[at] = replace(
        stages[at], question=data.draw(texts), product=data.draw(texts), minutes=data.draw(spans),
        cards=tuple(data.draw(st.lists(cards, max_size=2, unique_by=lambda c: c.word))),
        move=data.draw(st.sampled_from([0, 0.25, 3])), size=size and Size(size.target, size.least, size.most + 3),
    )  # fmt: skip
    lesson = lesson_for(replace(way(key), stages=tuple(stages)), **head)  # type: ignore[arg-type]
    lesson = replace(lesson, parts=data.draw(own_parts(lesson)))

    written = write_lesson(lesson)

    assert read(written) == lesson
    assert f'\nway = "{key}"\n' in written


def test_a_way_of_the_catalogue_taken_further_is_written_out_in_full() -> None:
    own = replace(way("pair-talk"), cautions=("Mind the step.",))
    lesson = lesson_for(own, title="Lesson", bell=50)

    written = write_lesson(lesson)

    assert "[own_way]" in written
    assert read(written) == lesson


def test_a_carousel_of_other_stations_is_the_same_when_written_and_read() -> None:
    lesson = lesson_for(replace(way("carousel"), stations=6), title="Lesson", bell=100)

    assert "stations = 6" in write_lesson(lesson)
    assert read(write_lesson(lesson)) == lesson


@given(st.sampled_from(sorted(EXAMPLES.rglob("*.toml"))), st.data())
@settings(max_examples=150, deadline=None)
def test_a_spoiled_lesson_is_read_or_told_but_never_breaks(file: Path, data: st.DataObject) -> None:
    lines = file.read_text(encoding="utf-8").splitlines()
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(lines) - 1))
        spoiled = [
            "",
            "x = 1",
            "[[stage]]",
            "[[part]]",
            "[own_way]",
            "minutes = []",
            "stage = 1",
            "way = 7",
            "bell = nan",
        ]
        lines[at] = data.draw(
            st.sampled_from([*spoiled, lines[at][: len(lines[at]) // 2], f"{lines[at]}{lines[at]}"])
        )
    try:
        read("\n".join(lines))
    except CannotRead as trouble:
        assert trouble.faults
        assert all(fault.where and fault.found and fault.would_do for fault in trouble.faults)
    except CannotPlan as trouble:
        assert trouble.told
