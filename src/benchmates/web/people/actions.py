"""What changes a class. Each is one transaction and one line in the record."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind
from benchmates.core.terms import counted, joined
from benchmates.web.people import bridge
from benchmates.web.people.models import MustRow, PupilRow, SchoolClass, Staff
from benchmates.web.people.record import recorded


def keep_class(
    *, by: Staff, key: str, name: str, pupils: ClassList, room: str = "", adults: int = 1
) -> SchoolClass:
    """Store a class list that a teacher has looked through."""
    with recorded(by=by, key=key) as note:
        if note.again is not None:
            return SchoolClass.objects.get(pk=note.again.klass or 0)
        klass = SchoolClass(department=by.department, name=name, room=room, adults=adults)
        note.save(klass)
        note.create_all([bridge.pupil_row(p, klass=klass, place=k) for k, p in enumerate(pupils)])
        note.klass = klass.pk
        note.what = f"list kept: {counted(len(pupils), 'pupil')}"
    return klass


def describe_class(*, by: Staff, key: str, klass: SchoolClass, name: str, room: str, adults: int) -> None:
    """Change what the class is called, where it is taught, and how many adults there are."""
    with recorded(by=by, key=key, klass=klass, what=f"class described: {name}") as note:
        if note.again is None and (klass.name, klass.room, klass.adults) != (name, room, adults):
            klass.name, klass.room, klass.adults = name, room, adults
            note.save(klass)


def record_pupils(*, by: Staff, key: str, klass: SchoolClass, fields: Mapping[str, Mapping[str, Any]]) -> int:
    """Store optional fields, by pupil id; returns how many pupils changed."""
    with recorded(by=by, key=key, klass=klass) as note:
        if note.again is not None:
            return 0
        for row in klass.pupils.filter(pid__in=fields):
            new = fields[row.pid]
            if any(getattr(row, name) != value for name, value in new.items()):
                for name, value in new.items():
                    setattr(row, name, value)
                note.save(row)
        changed = len(note.after)
        note.what = f"recorded for {counted(changed, 'pupil')}"
    return changed


def add_pupil(*, by: Staff, key: str, klass: SchoolClass, name: str) -> None:
    """Put one more pupil at the end of the list. The id is the name, with a number if it is taken."""
    with recorded(by=by, key=key, klass=klass, what=f"joined the list: {name}") as note:
        if note.again is not None:
            return
        taken = set(klass.pupils.values_list("pid", flat=True))
        pid, number = name, 2
        while pid in taken:
            pid, number = f"{name} {number}", number + 1
        last = klass.pupils.order_by("-place").values_list("place", flat=True).first()
        note.save(PupilRow(klass=klass, pid=pid, place=0 if last is None else last + 1, name=name))


def take_off(*, by: Staff, key: str, klass: SchoolClass, pid: str) -> None:
    """Take a pupil off the list; musts that name this pupil go as well, since nobody is left to hold them."""
    with recorded(by=by, key=key, klass=klass) as note:
        row = klass.pupils.filter(pid=pid).first()
        if note.again is not None or row is None:
            return
        for must in klass.musts.all():
            if pid in must.pupils:
                note.delete(must)
        note.what = f"left the list: {row.name}"
        note.delete(row)


def add_must(
    *,
    by: Staff,
    key: str,
    klass: SchoolClass,
    kind: Kind,
    pupils: Sequence[str],
    because: str = "",
    where: str = "",
) -> None:
    """Add a must. The same must twice is one must."""
    names = dict(klass.pupils.values_list("pid", "name"))
    _check_must(kind, pupils, names)
    told = f"must added: {kind.value.replace('_', ' ')}"
    with recorded(by=by, key=key, klass=klass, what=told) as note:
        if note.again is not None:
            return
        same = [m for m in klass.musts.filter(kind=kind.value, where=where) if set(m.pupils) == set(pupils)]
        if not same:
            note.save(
                MustRow(klass=klass, kind=kind.value, pupils=list(pupils), because=because, where=where)
            )


def _check_must(kind: Kind, pupils: Sequence[str], names: Mapping[str, str]) -> None:
    faults = [
        Fault("Pupils", f"{p} is not in this class", "Pick a name from the list.")
        for p in pupils
        if p not in names
    ]
    least = 2 if kind in (Kind.APART, Kind.TOGETHER) else 1
    if len(set(pupils)) < least:
        found = joined([names.get(p, p) for p in set(pupils)]) or "nobody"
        faults.append(Fault("Pupils", f"found {found}", f"Pick at least {counted(least, 'name')}."))
    if faults:
        raise CannotRead("This must cannot be added.", faults=faults)


def remove_must(*, by: Staff, key: str, klass: SchoolClass, must: int) -> None:
    """Take a must away."""
    with recorded(by=by, key=key, klass=klass) as note:
        row = klass.musts.filter(pk=must).first()
        if note.again is None and row is not None:
            note.what = f"must taken away: {row.kind.replace('_', ' ')}"
            note.delete(row)


def set_wishes(*, by: Staff, key: str, klass: SchoolClass, weights: Mapping[str, int]) -> None:
    """Set how much each wish weighs; only what differs from the usual weights is stored."""
    with recorded(by=by, key=key, klass=klass, what="wishes weighed anew") as note:
        if note.again is None and klass.wishes != dict(weights):
            klass.wishes = dict(weights)
            note.save(klass)
