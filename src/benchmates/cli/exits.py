"""How every command ends: the table of exit codes, and how trouble is told.

    0  done
    1  `check` found faults
    2  bad usage: an unknown option, a value that cannot be, a way of working that does not exist
    3  the musts cannot all hold, or the way or size cannot be had with this class
    4  a file cannot be read: every fault is listed

With ``--json`` the standard output holds one object, for 3 and 4 as well; otherwise trouble goes to the error output.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from enum import IntEnum

import typer

from benchmates.cli.words import say_trouble, show_json
from benchmates.core.errors import CannotConclude, CannotGroup, CannotPlan, CannotRead, Fault, Trouble
from benchmates.core.strategy.shape import CannotCut


class Exit(IntEnum):
    """The five endings."""

    DONE = 0
    FAULTS_FOUND = 1
    BAD_USAGE = 2
    CANNOT_HOLD = 3
    CANNOT_READ = 4


CODES: Mapping[type[Trouble], Exit] = {
    CannotRead: Exit.CANNOT_READ,
    CannotPlan: Exit.CANNOT_HOLD,
    CannotGroup: Exit.CANNOT_HOLD,
    CannotConclude: Exit.CANNOT_HOLD,
}


class BadUsage(Trouble):
    """What was typed cannot be meant, whatever the files hold."""


@contextmanager
def answering(*, as_json: bool) -> Iterator[None]:
    """Turn trouble inside a command into its exit code, in words or as one JSON object."""
    try:
        yield
    except BadUsage as trouble:
        say_trouble(trouble.told)
        raise typer.Exit(Exit.BAD_USAGE) from None
    except Trouble as trouble:
        if as_json:
            show_json(trouble_object(trouble))
        else:
            say_trouble(lines_of(trouble))
        raise typer.Exit(code_of(trouble)) from None


def code_of(trouble: Trouble) -> Exit:
    """The exit code of an error of the trade."""
    return next((CODES[kind] for kind in type(trouble).__mro__ if kind in CODES), Exit.CANNOT_HOLD)


def lines_of(trouble: Trouble) -> tuple[str, ...]:
    """What to print: the sentences, then every fault that they do not already hold."""
    faults = [str(f) for f in trouble.faults] if isinstance(trouble, CannotRead) else []
    return (*_told(trouble), *(line for line in faults if line not in trouble.told))


def _told(trouble: Trouble) -> tuple[str, ...]:
    """The sentences; where another size would do, also how to ask for it here."""
    if isinstance(trouble, CannotCut) and trouble.sizes:
        return (*trouble.told, f"Ask for it with --size {trouble.sizes[0]}.")
    return trouble.told


def trouble_object(trouble: Trouble) -> dict[str, object]:
    """The object printed for exits 3 and 4."""
    shown: dict[str, object] = {"told": list(_told(trouble))}
    if isinstance(trouble, CannotRead):
        shown["faults"] = [fault_object(f) for f in trouble.faults]
    if isinstance(trouble, CannotGroup):
        shown["cannot_hold"] = [_clash_object(clash) for clash in trouble.clash]
    return shown


def fault_object(fault: Fault) -> dict[str, str]:
    """One fault as plain values."""
    return {"where": fault.where, "found": fault.found, "would_do": fault.would_do}


def _clash_object(clash: object) -> object:
    as_json = getattr(clash, "as_json", None)
    return as_json() if callable(as_json) else str(clash)


def unreadable(where: str, found: str, would_do: str) -> CannotRead:
    """A single fault in what was handed in."""
    fault = Fault(where, found, would_do)
    return CannotRead(str(fault), faults=[fault])
