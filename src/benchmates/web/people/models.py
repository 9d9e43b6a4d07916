"""Who is in the department and in its classes; what must hold; every change ever made."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from benchmates.core.roster.musts import Kind
from benchmates.core.roster.pupil import Talk


class Department(models.Model):
    """One department of one school. ``invented`` marks demonstration data on every sheet."""

    school = models.CharField(max_length=120)
    name = models.CharField(max_length=120)
    invented = models.BooleanField(default=False)

    def __str__(self) -> str:
        return f"{self.school}, {self.name}"


class Staff(models.Model):
    """A teacher; ``key_hash`` belongs to the link that opens a session."""

    department = models.ForeignKey(Department, on_delete=models.CASCADE, related_name="staff")
    name = models.CharField(max_length=80)
    key_hash = models.CharField(max_length=200, blank=True)

    def __str__(self) -> str:
        return self.name


class SchoolClass(models.Model):
    """A class. ``wishes`` holds only the weights that differ from the usual ones."""

    department = models.ForeignKey(Department, on_delete=models.CASCADE, related_name="classes")
    name = models.CharField(max_length=80)
    room = models.CharField(max_length=60, blank=True)
    adults = models.PositiveSmallIntegerField(default=1)
    wishes = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class PupilRow(models.Model):
    """One pupil as held. Everything after ``year`` is optional and staff-only; null is not recorded."""

    klass = models.ForeignKey(SchoolClass, on_delete=models.CASCADE, related_name="pupils")
    pid = models.CharField(max_length=80)
    place = models.PositiveIntegerField()
    name = models.CharField(max_length=120)
    year = models.CharField(max_length=20, null=True, blank=True)
    attainment = models.IntegerField(null=True, blank=True)
    gender = models.CharField(max_length=30, null=True, blank=True)
    eal = models.BooleanField(null=True, blank=True)
    adult_support = models.BooleanField(null=True, blank=True)
    confident_reader = models.BooleanField(null=True, blank=True)
    talk = models.CharField(max_length=20, null=True, blank=True, choices=[(t.value, t.value) for t in Talk])
    works_well_with = models.JSONField(default=list, blank=True)
    bench = models.CharField(max_length=30, null=True, blank=True)

    class Meta:
        ordering = ["place", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["klass", "pid"], name="one_pupil_per_id"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def yes_no(self) -> list[dict[str, object]]:
        """The three yes-or-no fields with their words, in the order of the record."""
        words = {"eal": "EAL", "adult_support": "Adult support", "confident_reader": "Confident reader"}
        return [{"name": name, "words": text, "value": getattr(self, name)} for name, text in words.items()]


class MustRow(models.Model):
    """One must of a class; ``because`` is staff-only and short."""

    klass = models.ForeignKey(SchoolClass, on_delete=models.CASCADE, related_name="musts")
    kind = models.CharField(max_length=12, choices=[(k.value, k.value) for k in Kind])
    pupils = models.JSONField()
    because = models.CharField(max_length=80, blank=True)
    where = models.CharField(max_length=40, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kind=Kind.FIXED.value) | Q(where=""),
                name="only_fixed_names_a_place",
            ),
        ]


class Change(models.Model):
    """One change, told in words, with the rows it touched as they were and as they became.

    Rows are only ever added. Taking a change back is a change of its own that points at the one it undoes. Class
    and lesson are plain numbers, so that the record outlives what it tells of.
    """

    department = models.ForeignKey(Department, on_delete=models.PROTECT, related_name="changes")
    klass = models.BigIntegerField(null=True, blank=True)
    lesson = models.BigIntegerField(null=True, blank=True)
    by = models.ForeignKey(Staff, on_delete=models.PROTECT, related_name="changes")
    at = models.DateTimeField(auto_now_add=True)
    what = models.CharField(max_length=200)
    key = models.CharField(max_length=64, unique=True)
    before = models.JSONField()
    after = models.JSONField()
    undoes = models.OneToOneField(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="undone_by"
    )

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["klass", "-id"], name="changes_of_a_class")]
