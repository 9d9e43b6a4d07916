"""What the pages of lessons read."""

from __future__ import annotations

from benchmates.core.strategy import catalogue
from benchmates.core.strategy.plain import plain_groups
from benchmates.core.strategy.way import Way
from benchmates.web.lessons import bridge
from benchmates.web.people.models import Department


def own_ways(department: Department) -> list[Way]:
    """The ways that a department wrote itself."""
    return [bridge.as_way(row) for row in department.own_ways.all()]


def all_ways(department: Department) -> tuple[Way, ...]:
    """The catalogue, then the department's own."""
    return (*catalogue.ways(), *own_ways(department))


def way_of(department: Department, key: str) -> Way:
    """A way by its key: the department's own first, then the catalogue."""
    for way in own_ways(department):
        if way.key == key:
            return way
    return plain_groups() if key == plain_groups().key else catalogue.way(key)
