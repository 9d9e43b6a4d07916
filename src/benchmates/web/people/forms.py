"""What forms bring in of optional fields, musts and weights, and the words that stand in them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.grouping.wishes import USUAL, WORDS
from benchmates.core.roster.musts import Kind
from benchmates.core.roster.pupil import Talk
from benchmates.core.terms import counted
from benchmates.web.people import bridge, queries
from benchmates.web.people.models import PupilRow, SchoolClass
from benchmates.web.people.posts import number_in, within

FIELDS = ("attainment", "gender", "eal", "adult_support", "confident_reader", "talk", "bench")
YES_NO = {"yes": True, "no": False}


def optional_fields(request: HttpRequest, rows: Sequence[PupilRow]) -> dict[str, dict[str, Any]]:
    """The optional fields of every pupil in the form; a blank is "not recorded"."""
    found: dict[str, dict[str, Any]] = {}
    faults: list[Fault] = []
    by_name = _by_name(rows)
    for row in rows:
        sent = {
            name: (request.POST.get(f"{row.pk}:{name}") or "").strip()
            for name in (*FIELDS, "works_well_with")
        }
        if f"{row.pk}:attainment" not in request.POST:
            continue
        values: dict[str, Any] = {
            name: YES_NO.get(sent[name]) for name in ("eal", "adult_support", "confident_reader")
        }
        values["gender"], values["bench"] = sent["gender"][:30] or None, sent["bench"][:30] or None
        values["talk"] = sent["talk"] if sent["talk"] in {t.value for t in Talk} else None
        values["attainment"] = None
        if sent["attainment"]:
            values["attainment"] = number_in(sent["attainment"])
            if values["attainment"] is None:
                found_text = f"“{sent['attainment']}” for prior attainment"
                faults.append(Fault(row.name, found_text, "A whole number on any one scale, or blank."))
        values["works_well_with"] = _works_well(row, sent["works_well_with"], by_name, faults)
        found[row.pid] = values
    if faults:
        raise CannotRead("Some fields cannot be kept.", faults=faults)
    return found


def _works_well(row: PupilRow, text: str, by_name: Mapping[str, str], faults: list[Fault]) -> list[str]:
    pids = []
    for name in filter(None, (part.strip() for part in text.split(";"))):
        pid = by_name.get(name.casefold())
        if pid is None or pid == row.pid:
            faults.append(Fault(row.name, f"works well with “{name}”", "A name from this list, or blank."))
        else:
            pids.append(pid)
    return pids


def _by_name(rows: Sequence[PupilRow]) -> dict[str, str]:
    """Ids by name and by id; a name that two pupils share needs the id."""
    names: dict[str, str] = {}
    for row in rows:
        shared = sum(other.name.casefold() == row.name.casefold() for other in rows) > 1
        if not shared:
            names[row.name.casefold()] = row.pid
    names.update({row.pid.casefold(): row.pid for row in rows})
    return names


def must_sent(request: HttpRequest, rows: Sequence[PupilRow]) -> dict[str, Any]:
    """A must as the form has it: kind, pupils by name or id, where and because."""
    by_name = _by_name(rows)
    faults: list[Fault] = []
    pids: list[str] = []
    for text in filter(None, (t.strip() for t in request.POST.getlist("pupil"))):
        pid = by_name.get(text.casefold())
        if pid is None:
            faults.append(Fault("Pupil", f"“{text}”", "Pick a name from the list that opens as you type."))
        elif pid not in pids:
            pids.append(pid)
    try:
        kind = Kind(request.POST.get("kind", ""))
    except ValueError:
        faults.append(Fault("Must", "nothing chosen", "Choose what must hold."))
        kind = Kind.APART
    if faults:
        raise CannotRead("This must cannot be added.", faults=faults)
    where = (request.POST.get("where") or "").strip()[:40] if kind is Kind.FIXED else ""
    because = " ".join((request.POST.get("because") or "").split())[:80]
    return {"kind": kind, "pupils": pids, "where": where, "because": because}


@dataclass(frozen=True)
class WishLine:
    """A wish with its weight in words."""

    key: str
    words: str
    weight: int
    choices: Sequence[tuple[int, str]]
    off_because: str
    rate: str


CASES = {
    "new_partners": "A pair that has met before",
    "attainment": "One mark off balance",
    "gender": "One more of a gender than fits",
    "works_well": "A pupil with nobody they work well with",
    "lone": "A pupil who is the only one of a kind",
}
NEEDS = {
    "new_partners": (),
    "attainment": ("attainment",),
    "gender": ("gender",),
    "works_well": ("works_well",),
    "lone": ("gender", "eal", "adult_support"),
}
ASKED = {"attainment": 1, "gender": 4, "new_partners": 10, "works_well": 8, "lone": 6}


def wish_lines(klass: SchoolClass, rows: Sequence[PupilRow]) -> list[WishLine]:
    """Every wish: how much it weighs against the others, and whether there is anything for it to weigh."""
    weights = {**USUAL, **klass.wishes}
    recorded = queries.recorded_counts(bridge.as_class_list(rows))
    lines = []
    for key in USUAL:
        full = ASKED[key]
        choices = sorted(
            {
                (0, "off"),
                (full, "as usual" if USUAL[key] else "on"),
                (2 * full, "double"),
                (4 * full, "four times"),
            }
        )
        if weights[key] not in {w for w, _ in choices}:
            choices = sorted([*choices, (weights[key], str(weights[key]))])
        needs = NEEDS[key]
        off = "off: no data recorded" if needs and not any(recorded[n] for n in needs) else ""
        lines.append(WishLine(key, WORDS[key], weights[key], choices, off, _rate(key, weights)))
    return lines


def _rate(key: str, weights: Mapping[str, int]) -> str:
    """The exchange rate of a wish against prior attainment, or against new partners."""
    other = "attainment" if key != "attainment" and weights["attainment"] else "new_partners"
    if not weights[key] or not weights[other] or other == key:
        return ""
    against = {
        "attainment": ("mark off balance", "marks off balance"),
        "new_partners": ("repeated pair", "repeated pairs"),
    }
    one, many = against[other]
    times, rest = divmod(weights[key], weights[other])
    if rest == 0:
        return f"{CASES[key]} weighs as much as {counted(times, one, many)}."
    back = weights[other] / weights[key]
    return (
        f"{back:g} such cases weigh as much as one {one}."
        if back >= 1
        else f"{CASES[key]} weighs {weights[key]} to {weights[other]} against one {one}."
    )


def weights_sent(request: HttpRequest) -> dict[str, int]:
    """The weights of a form; whole numbers from 0 to 1000."""
    weights = {}
    for key in USUAL:
        text = request.POST.get(key, "")
        weight = within(text, least=0, most=1000)
        weights[key] = USUAL[key] if weight is None else weight
    return weights


def lesson_lines(klass: SchoolClass) -> list[Any]:
    """The lessons of a class, newest first. Lessons are a later room: they are reached through the row alone."""
    return list(klass.lessons.defer("toml").order_by("-pk"))
