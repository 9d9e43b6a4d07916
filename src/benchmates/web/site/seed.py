"""Alderquay School: a department to look at. All of it is invented; its history is computed, never typed."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import dataclass, replace
from pathlib import Path

from benchmates.core.grouping.make import make_groups
from benchmates.core.grouping.result_json import as_json
from benchmates.core.lesson.plan import Lesson, lesson_for
from benchmates.core.lesson.reading import read_lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind
from benchmates.core.roster.pupil import Pupil, Talk
from benchmates.core.strategy.catalogue import way
from benchmates.core.terms import PupilId
from benchmates.web.lessons import actions as lessons
from benchmates.web.lessons.models import LessonRow
from benchmates.web.people import actions as people
from benchmates.web.people.models import Department, SchoolClass, Staff
from benchmates.web.runs import actions as runs
from benchmates.web.runs import queries

SEED = 2014
EXAMPLES = Path(__file__).parents[4] / "examples" / "lessons"
TERM = dt.date(2026, 9, 8)

TEXTILES = (
    "Tamsin B;Ravi K;Odile M;Femi A;Gwen P;Hana S;Idris W;Jonty C;Kezia L;Mirek T;Noor H;Otis D;Priya V;Quill R;"
    "Saoirse F;Tomasz Z;Umi N;Wren J;Yusra E;Zeke O;Alba Q;Bram X"
)
FOOD = (
    "Cai Y;Della G;Ewan I;Flora U;Anouk V;Benedek S;Carys O;Dilan R;Esme T;Faisal N;Greta K;Huw L;Ilya P;Juno M;"
    "Kofi B;Lowri D;Milan C;Nia E;Oskar H;Petra J"
)
PRODUCT = (
    "Ada N;Bao L;Ceri M;Dov S;Ekin T;Fern W;Gil A;Hetty R;Inigo P;Jaya K;Kit O;Leocadia V;Musa D;Nell C;Orla B;"
    "Pavel Z;Qasim H;Rhys E;Sunniva G;Teo F;Una J;Viggo Y;Willa I;Xanthe U;Yann Q;Zara X"
)
STRUCTURES = (
    "Amias R;Bronwen T;Corin S;Delphi W;Emrys K;Farah M;Gethin B;Hilde P;Isra A;Joss D;Kemal V;Linnea C;Marek F;"
    "Nerys G;Osian H;Pia L;Rafe N;Saffi E;Taro J;Usha O"
)


@dataclass(frozen=True)
class Room:
    """One class of the department, its lesson to come, and the ways it has worked in so far."""

    name: str
    room: str
    adults: int
    names: str
    file: str
    way: str
    so_far: tuple[str, ...]
    weekday: int


ROOMS = (
    Room(
        "Year 8 Food", "Food room", 1, FOOD, "less-salt-dip.toml", "listening-triads",
        ("pair-talk", "buzz-groups", "round-robin"), 0,
    ),
    Room(
        "Year 9 Product design", "Studio", 2, PRODUCT, "feeder-audit.toml", "jigsaw",
        ("pairs-to-fours", "buzz-groups", "consensus-ranking"), 1,
    ),
    Room(
        "Year 8 Structures", "Workshop", 1, STRUCTURES, "card-cantilever-1.toml", "envoys",
        ("pair-talk", "pairs-to-fours", "buzz-groups"), 2,
    ),
    Room(
        "Year 10 Textiles", "Textiles room", 2, TEXTILES, "market-stall-apron.toml", "consensus-ranking",
        ("pairs-to-fours", "listening-triads", "buzz-groups"), 3,
    ),
)  # fmt: skip


def seed() -> Department:
    """Fill an empty database; the same every time."""
    department = Department.objects.create(
        school="Alderquay School", name="Design and technology", invented=True
    )
    teacher = Staff.objects.create(department=department, name="class teacher")
    chance = random.Random(SEED)
    for number, room in enumerate(ROOMS):
        klass = people.keep_class(
            by=teacher, key=f"seed-class-{number}", name=room.name, pupils=_pupils(room.names, chance),
            room=room.room, adults=room.adults,
        )  # fmt: skip
        _musts(teacher, klass, number)
        for week, key in enumerate(room.so_far):
            day = TERM + dt.timedelta(days=7 * week + room.weekday)
            lesson = lesson_for(
                way(key),
                title=way(key).name,
                bell=60,
                date=day,
                room=room.room,
                class_name=room.name,
                adults=room.adults,
            )
            row = _lesson(teacher, klass, lesson, f"seed-{number}-{week}")
            runs.end_lesson(by=teacher, key=f"seed-end-{number}-{week}", lesson=row, on=day)
        _lesson(teacher, klass, _to_come(room), f"seed-{number}-next")
    return department


def _pupils(names: str, chance: random.Random) -> ClassList:
    """Invented pupils with some of what may be recorded, and blanks as in any real list."""
    listed = names.split(";")
    pupils = []
    for name in listed:
        friends = tuple(PupilId(n) for n in chance.sample([n for n in listed if n != name], 2))
        pupils.append(
            Pupil(
                id=PupilId(name),
                name=name,
                attainment=None if chance.random() < 0.1 else round(chance.gauss(100, 12)),
                gender=chance.choice(("F", "M")),
                eal=chance.random() < 0.15,
                adult_support=chance.random() < 0.12,
                confident_reader=None if chance.random() < 0.2 else chance.random() < 0.6,
                talk=chance.choice((None, None, None, None, Talk.QUIET, Talk.TAKES_OVER)),
                works_well_with=friends if chance.random() < 0.4 else (),
            )
        )
    return ClassList(tuple(pupils))


def _musts(teacher: Staff, klass: SchoolClass, number: int) -> None:
    """Two kept apart, two kept together: short reasons, as a school would hold them."""
    pids = list(klass.pupils.values_list("pid", flat=True))
    people.add_must(
        by=teacher, key=f"seed-apart-{number}", klass=klass, kind=Kind.APART, pupils=pids[-2:],
        because="arranged by year office",
    )  # fmt: skip
    if klass.name == "Year 10 Textiles":
        people.add_must(
            by=teacher, key="seed-together", klass=klass, kind=Kind.TOGETHER, pupils=["Femi A", "Yusra E"],
            because="shared language",
        )  # fmt: skip


def _to_come(room: Room) -> Lesson:
    """The lesson to come, from its file where the examples stand beside the program."""
    day = TERM + dt.timedelta(days=35 + room.weekday)
    file = EXAMPLES / room.file
    if not file.is_file():
        return lesson_for(
            way(room.way), title=way(room.way).name, bell=100, date=day, room=room.room, adults=room.adults
        )
    lesson = read_lesson(file.read_bytes(), filename=room.file)
    return replace(lesson, date=lesson.date or day, room=room.room, class_name=room.name)


def _lesson(teacher: Staff, klass: SchoolClass, lesson: Lesson, key: str) -> LessonRow:
    """Draw a lesson and make its groups as the pages would."""
    row = lessons.draw_lesson(by=teacher, key=key, klass=klass, lesson=lesson)
    request = replace(queries.request_for(row, seed=SEED), seconds=60.0)
    runs.keep_plan(by=teacher, key=f"{key}-groups", lesson=row, plan=as_json(make_groups(request)))
    return row
