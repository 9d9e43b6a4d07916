"""Serve the pages on this computer: ``python -m benchmates.web.site.demo [--port N] [--data DIR] [--empty]``.

The child processes that make groups read this module again, so the heavy imports stand inside the functions.
"""

from __future__ import annotations

import argparse
import os
import secrets
import socket
import sys
from pathlib import Path

USUAL_PORT = 8460
# File systems on which SQLite's locks do not hold between computers.
SHARED = ("nfs", "nfs4", "cifs", "smb3", "smbfs", "9p.network", "afs", "fuse.sshfs")


def main(arguments: list[str] | None = None) -> int:
    """Migrate, seed, print the link, serve until stopped."""
    options = _options(arguments)
    data = _folder(options.data)
    if data is None:
        return 2
    os.environ["BENCHMATES_DATA"] = str(data)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "benchmates.web.site.settings")
    import django

    django.setup()
    key = _prepare(empty=options.empty)
    held = _socket(options.port)
    if held is None:
        say(f"Port {options.port} is taken by another program. Choose another, or leave --port away.")
        return 2
    try:
        _serve(held, f"http://127.0.0.1:{held.getsockname()[1]}/open/{key}/", data)
    except KeyboardInterrupt:
        pass  # the way a teacher stops it
    finally:
        held.close()
    say("Stopped.")
    return 0


def say(text: str = "") -> None:
    """Write a line where it is seen at once, also through a pipe."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def _options(arguments: list[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="demo", description="Serve Benchmates on this computer.")
    parser.add_argument("--port", type=int, default=0, help="the port to serve on; a free one if left away")
    parser.add_argument("--data", type=Path, help="the folder that holds the data")
    parser.add_argument("--empty", action="store_true", help="begin without the invented school")
    return parser.parse_args(arguments)


def _folder(chosen: Path | None) -> Path | None:
    """The data folder, open to this user alone; None if it cannot serve."""
    from platformdirs import user_data_path

    data = (chosen or user_data_path("benchmates", appauthor=False)).expanduser().resolve()
    try:
        data.mkdir(parents=True, exist_ok=True, mode=0o700)
        secret = data / "secret"
        if not secret.is_file():
            secret.touch(mode=0o600)
            secret.write_text(secrets.token_urlsafe(48))
    except OSError as trouble:
        say(f"The folder {data} cannot be written to ({trouble.strerror}). Choose another with --data.")
        return None
    kind = file_system(data)
    if kind in SHARED:
        say(f"{data} is on a network share ({kind}), where two computers could spoil each other's writing.")
        say("Choose a folder on this computer with --data.")
        return None
    return data


def file_system(folder: Path, mounts: Path = Path("/proc/mounts")) -> str:
    """The kind of file system a folder is on, where the system tells; empty otherwise."""
    if not mounts.is_file():
        return ""
    found, kind = "", ""
    for line in mounts.read_text().splitlines():
        place, name = line.split()[1:3]
        inside = place == "/" or f"{folder}/".startswith(f"{place}/")
        if inside and len(place) >= len(found):
            found, kind = place, name
    return kind


def _prepare(*, empty: bool) -> str:
    """Bring the tables up to date, fill them the first time, and give the teacher a new key."""
    from django.contrib.auth.hashers import make_password
    from django.core.management import call_command

    from benchmates.web.people.models import Department, Staff

    call_command("migrate", verbosity=0, interactive=False)
    if not Department.objects.exists():
        if empty:
            department = Department.objects.create(school="Your school", name="Design and technology")
            Staff.objects.create(department=department, name="class teacher")
        else:
            from benchmates.web.site.seed import seed

            say("First start: making up Alderquay School and its groups. This takes a little while.")
            seed()
    key = secrets.token_urlsafe(12)
    teacher = Staff.objects.order_by("pk").first()
    assert teacher is not None
    teacher.key_hash = make_password(key)
    teacher.save(update_fields=["key_hash"])
    return key


def _socket(port: int) -> socket.socket | None:
    """A socket on this computer alone: the port asked for, or the usual one, or any that is free."""
    for wanted in (port,) if port else (USUAL_PORT, 0):
        held = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name != "nt":
            held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            held.bind(("127.0.0.1", wanted))
            held.listen(128)  # whoever follows the link at once waits in line instead of being refused
        except OSError:
            held.close()
            continue
        return held
    return None


def _announce(link: str, data: Path) -> None:
    import segno

    say()
    say("Benchmates is ready. Open this teacher link on this computer:")
    say()
    say(f"    {link}")
    say()
    try:
        segno.make(link).terminal(compact=True)
        sys.stdout.flush()
    except UnicodeEncodeError:
        pass  # a terminal without block letters still has the link
    say()
    say(f"Data: {data}")
    say("Stop with Ctrl-C.")


def _serve(held: socket.socket, link: str, data: Path) -> None:
    """Serve until a signal comes; whoever is being answered has two seconds, the children none."""
    import uvicorn

    from benchmates.web.runs import jobs
    from benchmates.web.site.asgi import application

    config = uvicorn.Config(
        application, log_level="warning", timeout_graceful_shutdown=2, lifespan="off", access_log=False
    )
    try:
        jobs.warm_up()
        _announce(link, data)
        uvicorn.Server(config).run(sockets=[held])
    finally:
        jobs.stop()


if __name__ == "__main__":
    sys.exit(main())
