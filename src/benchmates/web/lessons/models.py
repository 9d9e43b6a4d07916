"""Lessons as kept: one plain text holds the whole lesson, a few columns make lists quick."""

from __future__ import annotations

from django.db import models

from benchmates.web.people.models import Department, SchoolClass


class LessonRow(models.Model):
    """One lesson. ``toml`` is the lesson; title, way and date repeat what it says, for lists."""

    klass = models.ForeignKey(SchoolClass, on_delete=models.CASCADE, related_name="lessons")
    title = models.CharField(max_length=120)
    way_key = models.CharField(max_length=60)
    way_name = models.CharField(max_length=80)
    date = models.DateField(null=True, blank=True)
    ended_on = models.DateField(null=True, blank=True)
    insists = models.BooleanField(default=False)
    toml = models.TextField()

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.title


class OwnWay(models.Model):
    """A way of working that the department wrote itself: the same plain file as the 22, without pupil data."""

    department = models.ForeignKey(Department, on_delete=models.CASCADE, related_name="own_ways")
    key = models.CharField(max_length=60)
    name = models.CharField(max_length=80)
    toml = models.TextField()

    class Meta:
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["department", "key"], name="one_own_way_per_key")]

    def __str__(self) -> str:
        return self.name
