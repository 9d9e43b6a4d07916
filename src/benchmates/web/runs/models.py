"""Groups as made or as they sat; who worked with whom in lessons that ended; work in hand."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.utils import timezone

from benchmates.web.lessons.models import LessonRow
from benchmates.web.people.models import SchoolClass, Staff


class PlanRow(models.Model):
    """Groups for every stage of a lesson. Earlier drafts stay; one is current."""

    MADE, CHOSEN = "made", "chosen"

    lesson = models.ForeignKey(LessonRow, on_delete=models.CASCADE, related_name="plans")
    source = models.CharField(max_length=8, choices=[(MADE, "made"), (CHOSEN, "chosen by pupils")])
    current = models.BooleanField(default=True)
    # Not auto_now_add: undo puts a row back as it was, its time included.
    at = models.DateTimeField(default=timezone.now)
    plan = models.JSONField()
    compared = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(fields=["lesson"], condition=Q(current=True), name="one_current_plan"),
        ]


class SittingRow(models.Model):
    """One pupil in one group of one stage of a lesson that ended."""

    klass = models.ForeignKey(SchoolClass, on_delete=models.CASCADE, related_name="sittings")
    lesson = models.ForeignKey(LessonRow, on_delete=models.CASCADE, related_name="sittings")
    date = models.DateField()
    number = models.PositiveSmallIntegerField()
    stage = models.CharField(max_length=80)
    group = models.CharField(max_length=40)
    pupil = models.CharField(max_length=80)
    role = models.CharField(max_length=40, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["lesson", "number", "pupil"], name="one_place_per_pupil_and_stage"
            ),
        ]


class Job(models.Model):
    """Groups being made for a lesson. It holds no pupil data but the message of what went wrong."""

    WAITING, DONE, REFUSED = "waiting", "done", "refused"

    lesson = models.ForeignKey(LessonRow, on_delete=models.CASCADE, related_name="jobs")
    by = models.ForeignKey(Staff, on_delete=models.CASCADE)
    key = models.CharField(max_length=64, unique=True)
    state = models.CharField(max_length=8, default=WAITING)
    at = models.DateTimeField(auto_now_add=True)
    told = models.JSONField(default=list)
    clash = models.JSONField(default=list)
    seed = models.BigIntegerField(default=1)

    class Meta:
        ordering = ["-pk"]
