"""A class list as it came: pasted or in a file, read and shown before anything of it is kept."""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest
from django.utils import timezone

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.reading import read_class_list, read_pasted
from benchmates.core.terms import joined

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
