"""What was handed in: files are opened and read here, and every fault in all of them is told at once."""

from __future__ import annotations

import difflib
import json
import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from benchmates.cli.exits import BadUsage
from benchmates.cli.files import bytes_of
from benchmates.core.errors import CannotPlan, CannotRead, Fault
from benchmates.core.grouping.wishes import Wishes, read_wishes
from benchmates.core.lesson.plan import Lesson, lesson_for
from benchmates.core.lesson.reading import read_lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History
from benchmates.core.roster.musts import Must
from benchmates.core.strategy.catalogue import read_way, way
from benchmates.core.strategy.plain import plain_groups
from benchmates.core.strategy.way import Way
from benchmates.core.terms import PupilId, joined

T = TypeVar("T")
# The plain lesson of an hour stands round a way that comes without a lesson; making groups never asks for the bell.
USUAL_BELL = 60


@dataclass(frozen=True)
class Named:
    """The files and values a command was given, still as typed."""

    class_file: str
    columns: Path | None = None
    musts: Path | None = None
    history: Path | None = None
    wishes: Path | None = None
    absent: str = ""


@dataclass(frozen=True)
class Given:
    """The same, read. ``absent`` is None when nobody was named, which is not the same as nobody away."""

    class_list: ClassList
    musts: tuple[Must, ...] = ()
    history: History = field(default_factory=History)
    wishes: Wishes = field(default_factory=Wishes.usual)
    absent: frozenset[PupilId] | None = None
    notices: tuple[str, ...] = ()


class Gathering:
    """Reads one thing after another and raises once, with every fault found."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def reading(self, read: Callable[[], T], instead: T) -> T:
        """What ``read`` gives, or ``instead`` with its faults noted."""
        try:
            return read()
        except CannotRead as trouble:
            self.faults += trouble.faults or [
                Fault("the files", " ".join(trouble.told), "Mend it and try again.")
            ]
            return instead

    def done(self) -> None:
        """Raise what was gathered."""
        if self.faults:
            raise CannotRead(*(str(f) for f in self.faults), faults=self.faults)


# ---- the class and what goes with it


def read_given(named: Named) -> Given:
    """Read the class and every file that goes with it.

    Raises
    ------
    CannotRead
        Every fault in all of them.
    """
    # Reading tables brings its own tools; listing ways of working needs none of them.
    from benchmates.cli.asking import read_class

    gathering = Gathering()
    wishes = Wishes.usual()
    if (file := named.wishes) is not None:
        wishes = gathering.reading(lambda: read_wishes(bytes_of(file), filename=str(file)), wishes)
    nobody: tuple[ClassList, tuple[str, ...]] = (ClassList(()), ())
    class_list, notices = gathering.reading(lambda: read_class(named.class_file, named.columns), nobody)
    given = Given(class_list, wishes=wishes, notices=notices)
    if class_list.pupils:  # without a class every id would look unknown
        given = _with_what_goes_with_it(given, named, gathering)
    gathering.done()
    return given


def _with_what_goes_with_it(given: Given, named: Named, gathering: Gathering) -> Given:
    from benchmates.core.roster.reading import read_history, read_musts

    known = given.class_list
    if (file := named.musts) is not None:
        none: tuple[Must, ...] = ()
        musts = gathering.reading(
            lambda: read_musts(bytes_of(file), filename=str(file), class_list=known), none
        )
        given = replace(given, musts=musts)
    if (past := named.history) is not None:
        nothing: tuple[History, tuple[str, ...]] = (History(), ())
        history, told = gathering.reading(
            lambda: read_history(bytes_of(past), filename=str(past), class_list=known), nothing
        )
        given = replace(given, history=history, notices=(*given.notices, *told))
    if named.absent.strip():
        nobody: frozenset[PupilId] = frozenset()
        given = replace(given, absent=gathering.reading(lambda: absent_ids(named.absent, known), nobody))
    return given


def absent_ids(typed: str, class_list: ClassList) -> frozenset[PupilId]:
    """Who is away, by id; a display name does where only one pupil has it."""
    from benchmates.core.roster.reading.naming import Naming

    naming = Naming((p.id, p.name) for p in class_list)
    faults, away = [], set()
    for word in filter(None, (part.strip() for part in re.split(r"[,;]", typed))):
        pupil, wrong = naming.who(word)
        if pupil is None:
            near = difflib.get_close_matches(word, [*class_list.ids, *class_list.names().values()], n=3)
            would_do = (
                f"Near it: {joined(near, last='or')}."
                if near
                else "Name pupils by the ids of the class list."
            )
            faults.append(Fault("--absent", wrong, would_do))
        else:
            away.add(pupil)
    if faults:
        raise CannotRead(*(str(f) for f in faults), faults=faults)
    return frozenset(away)


# ---- the way of working and the lesson


def way_called(key: str) -> Way:
    """A way of the catalogue by its key, or a teacher's own from a file that ends in ``.toml``."""
    if key.casefold().endswith(".toml"):
        return read_way(bytes_of(key), filename=key)
    try:
        return way(key)
    except CannotPlan as trouble:
        raise BadUsage(*trouble.told, "`benchmates ways` lists them.") from None


def lesson_given(
    *,
    way_key: str | None,
    lesson_file: Path | None,
    size: int | None,
    adults: int | None,
    class_name: str = "",
) -> Lesson:
    """The lesson named, or a plain lesson round the way named, or one stage of groups of four."""
    if way_key is not None and lesson_file is not None:
        raise BadUsage("Name a way of working or a lesson, not both: the lesson holds its own way.")
    if lesson_file is not None:
        lesson = read_lesson(bytes_of(lesson_file), filename=str(lesson_file))
    else:
        chosen = way_called(way_key) if way_key is not None else plain_groups()
        bell = max(USUAL_BELL, chosen.least_minutes)
        lesson = lesson_for(chosen, title=chosen.name, bell=bell, class_name=class_name, adults=1)
    lesson = replace(lesson, size=size) if size is not None else lesson
    return replace(lesson, adults=adults) if adults is not None else lesson


# ---- values


def limits(typed: str | None) -> tuple[int, int] | None:
    """ "3-5" as least and most; a single number is both."""
    if typed is None:
        return None
    match = re.fullmatch(r"\s*(\d{1,4})\s*(?:[-\N{EN DASH}]\s*(\d{1,4})\s*)?", typed)
    if match is None:
        raise BadUsage(f"--sizes takes least and most, such as 3-5, not “{typed}”.")
    least, most = int(match[1]), int(match[2] or match[1])
    if not 1 <= least <= most:
        raise BadUsage(f"--sizes runs from least to most, such as 3-5, not “{typed}”.")
    if least == 1:
        raise CannotPlan("A group has at least two pupils.", f"Ask for --sizes 2-{max(2, most)}.")
    return least, most


def seconds_given(seconds: float) -> float:
    """A time limit that is a number."""
    if not math.isfinite(seconds) or seconds < 0:
        raise BadUsage("--seconds takes a number of seconds, 0 or more.")
    return seconds


def object_in(data: bytes) -> dict[str, object]:
    """The object a plan file holds (it has been read as a plan before)."""
    found = json.loads(data)
    return found if isinstance(found, dict) else {}
