"""Nothing that is for staff stands on a sheet for the class."""

from __future__ import annotations

import json
import re
import zlib
from dataclasses import asdict, replace

import pytest

from benchmates.core.grouping.absences import if_away
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.pupil import Pupil, Talk
from benchmates.core.terms import PupilId
from benchmates.sheets.overviews import wall_page
from benchmates.sheets.pack import class_facing_data, print_pack
from benchmates.sheets.source import Source
from tests.sheets.printed import CLASS_FACING, grouped, lesson_of, text_of

SECRETS = (
    "zq-id",
    "4713",
    "zqgender",
    "takes over",
    "zqyear",
    "zqtold",
    "zqaway",
    "zqcaution",
    "zqstop",
    "zqcert",
)


def pupil(number: int) -> Pupil:
    return Pupil(
        PupilId(f"zq-id-{number}"), f"Name{chr(65 + number)} X", year="zqyear", attainment=4713, gender="zqgender",
        eal=True, adult_support=number == 0, confident_reader=False, talk=Talk.TAKES_OVER,
        works_well_with=(PupilId(f"zq-id-{(number + 1) % 16}"),),
    )  # fmt: skip


CLASS = ClassList(tuple(pupil(number) for number in range(16)))


def streams(pdf: bytes) -> bytes:
    """The file with every compressed stream opened."""
    opened = []
    for found in re.finditer(rb"stream\r?\n(.*?)endstream", pdf, re.DOTALL):
        try:
            opened.append(zlib.decompressobj().decompress(found.group(1)))
        except zlib.error:
            opened.append(found.group(1))
    return pdf + b"".join(opened)


@pytest.mark.parametrize("key", ["snowball", "role-cards", "critique-gallery"])
def test_no_staff_field_reaches_a_class_facing_sheet(key: str) -> None:
    lesson = lesson_of(key)
    lesson = replace(lesson, way=replace(lesson.way, cautions=("zqcaution",)))
    plan, times, request = grouped(CLASS, lesson)
    plan = replace(plan, told=("zqtold",), certificate={"zqcert": 1}, stopped_because="zqstop")
    away = [replace(line, told="zqaway") for line in if_away(plan, request)]

    files = print_pack(lesson, plan, CLASS, timetable=times, away_lines=away)
    data = json.dumps(class_facing_data(Source(lesson, plan, CLASS.names(), times)))

    for sheet in CLASS_FACING:
        text, inside = text_of(files[sheet]), streams(files[sheet])
        assert [s for s in SECRETS if s in text or s.encode() in inside] == []
    assert [s for s in SECRETS if s in data] == []
    staff = text_of(files["run-sheet.pdf"])
    assert [
        s for s in ("zqtold", "zqaway", "zqcaution") if s not in staff
    ] == []  # so the search would have found them


ALLOWED = {
    "heading", "title", "lesson", "class_name", "date", "cards", "places", "everyone", "spot", "label", "called",
    "where", "stages", "name", "question", "product", "clock", "people", "role", "job", "leads", "turns",
    "turns_tell", "stops_tell", "stops", "following", "word", "shape", "lead_by", "columns", "rows", "cells",
    "wheres", "roles", "pages", "asked", "how", "groups", "tokens",
}  # fmt: skip


def test_class_facing_data_holds_the_allowed_fields_alone() -> None:
    lesson = lesson_of("role-cards")
    plan, times, _ = grouped(CLASS, lesson)

    data = class_facing_data(Source(lesson, plan, CLASS.names(), times))

    tokens = {group.label for stage in plan.stages for group in stage.groups}
    assert keys_of(data) - tokens - set(data) <= ALLOWED


@pytest.mark.parametrize("key", ["snowball", "critique-gallery"])
def test_every_stage_on_the_board_holds_the_allowed_fields_alone(key: str) -> None:
    """Stages in which pupils are alone or all together too: the board shows them, the wall sheet does not."""
    lesson = lesson_of(key)
    plan, times, _ = grouped(CLASS, lesson)
    source = Source(lesson, plan, CLASS.names(), times)

    pages = [asdict(wall_page(source, number)) for number in range(len(plan.stages))]

    assert keys_of(pages) <= ALLOWED
    assert [s for s in SECRETS if s in json.dumps(pages)] == []


def keys_of(value: object) -> set[str]:
    if isinstance(value, dict):
        return set(value).union(*(keys_of(inner) for inner in value.values()))
    if isinstance(value, list | tuple):
        return set().union(*(keys_of(inner) for inner in value))
    return set()
