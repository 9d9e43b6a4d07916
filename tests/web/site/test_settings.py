"""What keeps writing safe, and how the demonstration starts and stops."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection

from benchmates.web.site import demo

ROOT = Path(__file__).parents[3]


def test_database_waits_and_never_loses_what_was_answered() -> None:
    """SQLite's own pages: WAL lets readers go on; synchronous FULL is 2; IMMEDIATE takes the lock at the start."""
    options = settings.DATABASES["default"]["OPTIONS"]
    assert options["transaction_mode"] == "IMMEDIATE"
    assert options["timeout"] == 20
    assert not settings.DATABASES["default"].get("ATOMIC_REQUESTS", False)


@pytest.mark.django_db
def test_synchronous_is_full() -> None:
    with connection.cursor() as cursor:
        assert cursor.execute("PRAGMA synchronous").fetchone() == (2,)
        assert cursor.execute("PRAGMA foreign_keys").fetchone() == (1,)


def test_network_share_is_refused_in_words(tmp_path: Path, capsys, monkeypatch) -> None:
    monkeypatch.setattr(demo, "file_system", lambda folder: "nfs4")
    assert demo.main(["--data", str(tmp_path / "held")]) == 2
    assert "network share" in capsys.readouterr().out


def test_kind_of_file_system_is_that_of_the_nearest_mount(tmp_path: Path) -> None:
    mounts = tmp_path / "mounts"
    mounts.write_text("a / ext4 rw 0 0\nb /srv nfs4 rw 0 0\nc /srv/here ext4 rw 0 0\n")
    kinds = [demo.file_system(Path(p), mounts) for p in ("/home/x", "/srv/x", "/srv/here/x", "/srvx")]
    assert kinds == ["ext4", "nfs4", "ext4", "ext4"]


@pytest.mark.django_db
def test_models_and_migrations_agree() -> None:
    from django.core.management import call_command

    call_command("makemigrations", "--check", "--dry-run", verbosity=0)


def test_data_folder_is_for_this_user_alone(tmp_path: Path) -> None:
    folder = demo._folder(tmp_path / "held")
    assert folder is not None
    assert (folder / "secret").stat().st_mode & 0o077 == 0


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no signal for Ctrl-C that a test may send")
def test_demo_stops_within_three_seconds_and_leaves_a_whole_database(tmp_path: Path) -> None:
    """Design, section 2: serve in the foreground, stop within 3 s."""
    import os
    import signal
    import time

    out = tmp_path / "said"
    with out.open("w") as said:
        running = subprocess.Popen(
            [sys.executable, "-m", "benchmates.web.site.demo", "--data", str(tmp_path / "held"), "--empty"],
            stdout=said, stderr=subprocess.STDOUT, cwd=ROOT, start_new_session=True,
            env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUTF8": "1"},
        )  # fmt: skip
    until = time.monotonic() + 60
    while "Stop with Ctrl-C" not in out.read_text() and time.monotonic() < until:
        time.sleep(0.05)
    asked = time.monotonic()
    running.send_signal(signal.SIGINT)
    assert running.wait(10) == 0
    assert time.monotonic() - asked < 3
    assert "Traceback" not in out.read_text()
    with sqlite3.connect(tmp_path / "held" / "benchmates.sqlite3") as held:
        assert held.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert held.execute("PRAGMA integrity_check").fetchone() == ("ok",)
