"""The standing cast of every test of the pages: who owns, who is a stranger, who is a pupil. All invented."""

from __future__ import annotations

from dataclasses import dataclass

from django.test import Client

from benchmates.core.lesson.plan import lesson_for
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind
from benchmates.core.roster.pupil import Pupil
from benchmates.core.strategy.catalogue import way
from benchmates.core.terms import PupilId
from benchmates.web.lessons import actions as lessons
from benchmates.web.lessons.models import LessonRow
from benchmates.web.people import actions as people
from benchmates.web.people.models import Department, MustRow, SchoolClass, Staff
from benchmates.web.people.rules import SESSION_KEY

NAMES = ("Tamsin B", "Ravi K", "Odile M", "Femi A", "Gwen P", "Hana S", "Idris W", "Jonty C")
# Strings that no page and no print for pupils may ever hold; the class below carries all of them.
SECRETS = ("SECRET-reason", "SECRET-gender", "SECRET-bench-note", "7777777")


@dataclass
class Cast:
    """A teacher with a class and a lesson; a teacher of another department; a pupil without the link."""

    teacher: Client
    stranger: Client
    pupil: Client
    staff: Staff
    klass: SchoolClass
    lesson: LessonRow
    must: MustRow


def gather() -> Cast:
    """Put the cast on the stage."""
    ours = Department.objects.create(school="Alderquay School", name="Design and technology", invented=True)
    theirs = Department.objects.create(
        school="Brackenfold School", name="Design and technology", invented=True
    )
    staff = Staff.objects.create(department=ours, name="class teacher")
    other = Staff.objects.create(department=theirs, name="another teacher")
    pupils = ClassList(
        tuple(
            Pupil(
                PupilId(name),
                name,
                attainment=7777777 if k == 0 else None,
                gender="SECRET-gender" if k < 2 else None,
            )
            for k, name in enumerate(NAMES)
        )
    )
    klass = people.keep_class(by=staff, key="cast-class", name="Year 10 Textiles", pupils=pupils)
    people.add_must(
        by=staff,
        key="cast-must",
        klass=klass,
        kind=Kind.APART,
        pupils=["Ravi K", "Odile M"],
        because="SECRET-reason",
    )
    lesson = lessons.draw_lesson(
        by=staff,
        key="cast-lesson",
        klass=klass,
        lesson=lesson_for(way("pairs-to-fours"), title="Which need first?", bell=60),
    )
    return Cast(
        teacher=_signed_in(staff), stranger=_signed_in(other), pupil=Client(), staff=staff, klass=klass,
        lesson=lesson, must=MustRow.objects.get(klass=klass),
    )  # fmt: skip


def _signed_in(staff: Staff) -> Client:
    client = Client()
    session = client.session
    session[SESSION_KEY] = staff.pk
    session.save()
    return client
