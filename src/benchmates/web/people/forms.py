"""What forms bring in: pasted lists, optional fields, musts, weights; and the words that stand in them."""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest
from django.utils import timezone

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.grouping.wishes import USUAL, WORDS
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind
from benchmates.core.roster.pupil import Talk
from benchmates.core.roster.reading import read_class_list, read_pasted
from benchmates.core.terms import counted, joined
from benchmates.web.people import bridge, queries
from benchmates.web.people.models import PupilRow, SchoolClass
from benchmates.web.people.posts import number_in, within

PASTED = "pasted names"
# A file goes to the page and comes back with the second press, a third longer, within DATA_UPLOAD_MAX_MEMORY_SIZE.
MOST_BYTES = 8_000_000


@dataclass(frozen=True)
class Sent:
    """A list as it came: its bytes and what the file was called."""

    data: bytes
    filename: str

    @property
    def is_text(self) -> bool:
        """Whether it was pasted, so that it can be mended on the page."""
        return self.filename == PASTED

    @property
    def text(self) -> str:
        """The pasted text."""
        return self.data.decode("utf-8", "replace")

    @property
    def carried(self) -> str:
        """The bytes as a form field carries them: nothing is stored before the list is kept."""
        return base64.b64encode(self.data).decode()

    @property
    def class_name(self) -> str:
        """A name for the class until the teacher gives a better one."""
        if self.is_text:
            return timezone.localtime().strftime("Class of %-d %B, %H:%M")
        return re.sub(r"[_\s]+", " ", self.filename.rsplit(".", 1)[0]).strip()[:80] or "Class"


def sent_list(request: HttpRequest) -> Sent | None:
    """The list that came with a form; a file wins over pasted names, None if neither came."""
    upload = request.FILES.get("file")
    if isinstance(upload, UploadedFile) and upload.size:
        if upload.size > MOST_BYTES:
            fault = Fault(str(upload.name), "the file is over 8 MB", "Choose the list of one class.")
            raise CannotRead(str(fault), faults=[fault])
        upload.seek(0)
        return Sent(upload.read(), str(upload.name))
    carried = request.POST.get("carried")
    if carried:
        try:
            return Sent(base64.b64decode(carried, validate=True), request.POST.get("filename") or "list")
        except (binascii.Error, ValueError):
            return None
    names = request.POST.get("names", "")
    return Sent(names.encode(), PASTED) if names.strip() else None


def chosen_headings(request: HttpRequest) -> dict[str, str]:
    """What the teacher said the unknown headings are; empty for "not held"."""
    return {name[4:]: str(value) for name, value in request.POST.items() if name.startswith("map:")}


@dataclass(frozen=True)
class Heading:
    """A heading we do not know, with what it may be."""

    heading: str
    choices: Sequence[tuple[str, str]]
    chosen: str


@dataclass(frozen=True)
class Preview:
    """What would be held of a list, and what must be mended first."""

    pupils: ClassList | None
    told: tuple[str, ...] = ()
    used: tuple[tuple[str, str], ...] = ()
    dropped: tuple[str, ...] = ()
    unknown: tuple[Heading, ...] = ()
    faults: tuple[Fault, ...] = field(default=())

    @staticmethod
    def unreadable(trouble: CannotRead) -> Preview:
        """A list of which nothing can be held."""
        return Preview(
            None, told=trouble.told if not trouble.faults else trouble.told[:1], faults=trouble.faults
        )

    @property
    def ready(self) -> bool:
        """Whether the list can be kept as it is."""
        return self.pupils is not None and len(self.pupils) > 0 and not self.faults

    @property
    def count(self) -> int:
        """How many pupils it holds."""
        return len(self.pupils) if self.pupils else 0

    @property
    def used_words(self) -> str:
        """Columns held: "Forename and Surname as name"."""
        return joined(
            [
                what if heading.casefold() == what else f"{what} (from “{heading}”)"
                for heading, what in self.used
            ]
        )

    @property
    def dropped_words(self) -> str:
        """Columns dropped, by name."""
        return joined([f"“{heading}”" for heading in self.dropped])


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


FIELD_WORDS = {
    "id": "their own id",
    "name": "name",
    "forename": "first name",
    "surname": "surname",
    "year": "year",
    "attainment": "prior attainment",
    "gender": "gender",
    "eal": "EAL",
    "adult_support": "adult support",
    "confident_reader": "confident reader",
    "talk": "talk",
    "works_well_with": "works well with",
    "bench": "bench",
}


def read_sent(sent: Sent, chosen: Mapping[str, str]) -> Preview:
    """What would be held of a list, under the headings that the teacher chose."""
    columns = {ours: theirs for theirs, ours in chosen.items() if ours in FIELD_WORDS}
    if sent.is_text:
        found = read_pasted(sent.text, columns=columns)
    else:
        found = read_class_list(sent.data, filename=sent.filename, columns=columns)
    used = [c for c in found.columns if c.field is not None]
    taken = {c.field for c in used} - set(columns)
    headings = [c.heading for c in found.columns if c.field is None] or ([] if used else list(found.headings))
    headings += [theirs for theirs in chosen if theirs not in headings and chosen[theirs]]
    choices = [("", "not held"), *((f, w) for f, w in FIELD_WORDS.items() if f not in taken)]
    return Preview(
        pupils=found.class_list,
        told=tuple(told for told in found.notices if not told.startswith("Not taken in")),
        used=tuple((c.heading, FIELD_WORDS.get(c.field or "", str(c.field))) for c in used),
        dropped=tuple(c.heading for c in found.columns if c.field is None),
        unknown=tuple(Heading(h, choices, chosen.get(h, "")) for h in headings),
        faults=found.faults,
    )
