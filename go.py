"""Set up, show and check Benchmates with nothing but Python itself.

    python3 go.py demo        (Windows: py go.py demo)

The first call makes a private environment in ``.venv`` from the lock files; later calls find it there and need
no network. Every step may be repeated safely. What each verb does is listed in ``VERBS`` at the foot.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent
SOURCE = ROOT / "src"
VENV = ROOT / ".venv"
STAMPS = {"run": VENV / ".locked-run", "dev": VENV / ".locked-dev"}
LOCKS = {"run": ROOT / "requirements.lock", "dev": ROOT / "requirements-dev.lock"}
OLDEST = (3, 11)
ONLY_LOCKED = ["--require-hashes", "--only-binary", ":all:"]
LOCK_EXPORT = ["export", "--format", "requirements-txt", "--no-header", "--no-annotate", "--no-emit-project"]


class Sorry(Exception):
    """A failure we can explain; its sentences are what the person at the keyboard reads."""


class Environment(NamedTuple):
    """What the environment in ``.venv`` says of itself."""

    version: str
    packages: Path


def say(text: str) -> None:
    """Print one line of progress at once, so that it stands before whatever a child process prints."""
    print(text, flush=True)


def refusal(version: tuple[int, ...]) -> str | None:
    """Answer why this Python will not do, or None when it will."""
    if version[:2] >= OLDEST:
        return None
    found = ".".join(str(part) for part in version[:3])
    return f"Benchmates needs Python {OLDEST[0]}.{OLDEST[1]} or newer; this is Python {found}."


# --- The environment ---------------------------------------------------------------------------------------------


def venv_python() -> Path:
    """Where the environment keeps its Python."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def look_at_venv() -> Environment | None:
    """Ask the environment what it is; None when there is none, or it no longer starts."""
    question = "import platform, sysconfig; print(platform.python_version(), sysconfig.get_path('purelib'))"
    try:
        asked = subprocess.run(
            [venv_python(), "-I", "-c", question], capture_output=True, text=True, check=True
        )
    except (OSError, subprocess.CalledProcessError):
        return None
    version, packages = asked.stdout.strip().split(" ", maxsplit=1)
    return Environment(version, Path(packages))


def stamp_of(which: str, version: str) -> str:
    """What the stamp must say: the locks it was installed from, and for which Python."""
    locks = [LOCKS["run"]] if which == "run" else [LOCKS["run"], LOCKS["dev"]]
    # Line ends are evened out, or a checkout on Windows would look like another lock.
    text = b"".join(lock.read_bytes().replace(b"\r\n", b"\n") for lock in locks)
    return f"{hashlib.sha256(text).hexdigest()} Python {version}\n"


def is_stamped(which: str, version: str) -> bool:
    """Is the environment already what this lock asks for?"""
    stamp = STAMPS[which]
    return stamp.exists() and stamp.read_text(encoding="utf-8") == stamp_of(which, version)


def set_up(which: str) -> Path:
    """Make the environment fit ``which`` lock ("run" or "dev") and answer its Python; quick when it fits already."""
    environment = look_at_venv()
    if environment is None or not is_stamped(which, environment.version):
        environment = renew(which, environment)
    lay_project(environment)
    return venv_python()


def renew(which: str, environment: Environment | None) -> Environment:
    """Make the environment if need be, install the lock, and stamp it only when everything is in place."""
    started = time.monotonic()
    if environment is None or not stamped_for(environment.version):
        make_venv()
        environment = look_at_venv()
        if environment is None:
            raise Sorry(
                f"The new environment in {VENV.name} does not start. Delete that folder and try again."
            )
    install(which)
    for done in ("run",) if which == "run" else ("run", "dev"):
        STAMPS[done].write_text(stamp_of(done, environment.version), encoding="utf-8")
    say(f"Ready after {time.monotonic() - started:.0f} s. From now on no network is needed.")
    return environment


def stamped_for(version: str) -> bool:
    """Was anything finished in this environment under this very Python? If not, it is made afresh."""
    return any(
        stamp.exists() and stamp.read_text("utf-8").endswith(f" {version}\n") for stamp in STAMPS.values()
    )


def make_venv() -> None:
    """Make ``.venv`` afresh; Debian keeps the part that does so in a package of its own."""
    if find_spec("venv") is None or find_spec("ensurepip") is None:
        package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
        raise Sorry(
            "This Python cannot make an environment: its venv part is missing.",
            f"On Debian or Ubuntu:  sudo apt install {package}",
        )
    say(f"Making an environment in {VENV.name} (once).")
    made = quietly([sys.executable, "-m", "venv", "--clear", str(VENV)])
    if made is not None:
        raise Sorry(f"The folder {VENV.name} could not be made. Python said:", made)


def install(which: str) -> None:
    """Install the locked wheels: by uv, which is fast, or by pip whenever uv will not."""
    lock = LOCKS[which]
    count = sum("==" in line for line in lock.read_text(encoding="utf-8").splitlines())
    say(f"Installing about {count} packages as {lock.name} names them. The first time takes up to a minute.")
    if (
        install_uv()
        and quietly([uv(), "pip", "install", "--python", str(venv_python()), *locked(lock)]) is None
    ):
        return
    failed = quietly([*pip(), *locked(lock)])
    if failed is not None:
        raise Sorry(
            "The packages could not be fetched. The first set-up needs the network once; afterwards nothing does.",
            "Check the connection (a school proxy may want its address in HTTPS_PROXY) and try again.",
            "The installer's last words:",
            failed,
        )


def locked(lock: Path) -> list[str]:
    """Arguments by which either installer takes this lock and nothing beside it."""
    return ["--quiet", *ONLY_LOCKED, "-r", str(lock)]


def pip() -> list[str]:
    """The environment's own pip, told not to try for minutes where there is no network."""
    return [str(venv_python()), "-m", "pip", "install", "--no-compile", "--retries", "1", "--timeout", "30"]


def uv() -> str:
    """Where the environment keeps uv."""
    return str(venv_python().with_name("uv.exe" if os.name == "nt" else "uv"))


def install_uv() -> bool:
    """Fetch uv by the hashes of the development lock; False, without fuss, when it cannot be had."""
    if Path(uv()).exists():
        return True
    pin = pinned("uv", LOCKS["dev"].read_text(encoding="utf-8"))
    if pin is None:
        return False
    with tempfile.TemporaryDirectory() as folder:
        lock = Path(folder) / "uv.lock.txt"
        lock.write_text(pin, encoding="utf-8")
        return quietly([*pip(), *locked(lock)]) is None


def pinned(name: str, lock: str) -> str | None:
    """Cut one package with its hashes out of the text of a lock file."""
    block = re.search(rf"(?m)^{re.escape(name)}==.*\n(?:[ ].*\n)*", lock)
    return block[0] if block else None


def quietly(command: list[str]) -> str | None:
    """Run a command without its chatter; None when it went well, else the last lines it printed."""
    try:
        done = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
    except OSError as error:
        return f"  {error}"
    if done.returncode == 0:
        return None
    said = (done.stderr.strip() or done.stdout.strip()).splitlines()
    last = [line for line in said if not line.startswith("WARNING")] or said
    return "\n".join(f"  {line}" for line in last[-4:])


def lay_project(environment: Environment) -> None:
    """Put this folder and the ``benchmates`` command into the environment, without asking any network.

    Looked at on every call, so that a folder that was moved or copied mends itself.
    """
    write_if_new(environment.packages / "benchmates.pth", f"{SOURCE}\n")
    call = "import sys; from benchmates.cli.main import main; sys.exit(main())"
    if os.name == "nt":
        write_if_new(VENV / "Scripts/benchmates.cmd", f'@"%~dp0python.exe" -c "{call}" %*\n')
        return
    command = VENV / "bin/benchmates"
    # sh looks for Python beside the command: a "#!" line could not hold a folder with a space in its name.
    write_if_new(command, f'#!/bin/sh\nexec "$(dirname "$0")/python" -c "{call}" "$@"\n')
    command.chmod(0o755)


def write_if_new(file: Path, text: str) -> None:
    """Write a small file unless it already says this."""
    if not file.exists() or file.read_text(encoding="utf-8") != text:
        file.write_text(text, encoding="utf-8")


# --- The verbs ---------------------------------------------------------------------------------------------------


def fetch_tools() -> None:
    """As root on Debian, install what the tests drive; elsewhere the tests skip, and say what would help."""
    from tests.machine import missing_packages  # late: only the tests need it, and it stands with them

    wanted = missing_packages()
    if not wanted or not shutil.which("apt-get") or not (hasattr(os, "geteuid") and os.geteuid() == 0):
        return
    say(f"Installing {' and '.join(wanted)} for the tests (once).")
    quietly(["apt-get", "update", "-qq"])
    settings = ["-o", "DPkg::Lock::Timeout=120", "-o", "Acquire::Retries=2"]
    install = [
        "env",
        "DEBIAN_FRONTEND=noninteractive",
        "apt-get",
        "install",
        "-yqq",
        "--no-install-recommends",
    ]
    failed = quietly([*install, *settings, *wanted])
    if failed is not None:
        say(f"That did not work; the tests that need it will say so.\n{failed}")


def run(command: list[str]) -> int:
    """Run a command here, with its words shown, and answer its exit code."""
    return subprocess.run(command, cwd=ROOT, env={**os.environ, "PYTHONUTF8": "1"}, check=False).returncode


def setup(rest: list[str]) -> int:
    """Make the environment and stop there."""
    take_nothing("setup", rest)
    set_up("run")
    say("Benchmates is set up. Next:  make demo  (or: python3 go.py demo)")
    return 0


def demo(rest: list[str]) -> int:
    """Show Benchmates with an invented school, in a browser."""
    need("src/benchmates/web/site/demo.py")
    command = [str(set_up("run")), "-m", "benchmates.web.site.demo", *rest]
    if os.name == "nt":
        return run(command)
    # The demo takes this process over, so that Ctrl-C or a stop signal reaches the server itself.
    os.chdir(ROOT)
    os.environ["PYTHONUTF8"] = "1"
    os.execv(command[0], command)


def check(rest: list[str]) -> int:
    """Read the code without running it: style, types, the order of the rooms."""
    take_nothing("check", rest)
    return run([str(set_up("dev")), "-m", "tests.checks"])


def test(rest: list[str]) -> int:
    """Check the code, then run the tests; further words go to pytest."""
    python = set_up("dev")
    fetch_tools()
    faulty = run([str(python), "-m", "tests.checks"])
    failed = run([str(python), "-m", "pytest", *rest])
    if faulty:
        say("The checks before the tests found faults; they stand further up.")
    return failed or faulty


def test_long(rest: list[str]) -> int:
    """Run the long suites as well."""
    python = set_up("dev")
    fetch_tools()
    return run([str(python), "-m", "pytest", "-m", "long or not long", *rest])


def bench(rest: list[str]) -> int:
    """Measure speed and quality on named classes."""
    need("benchmarks/__main__.py")
    return run([str(set_up("dev")), "-m", "benchmarks", *rest])


def bench_full(rest: list[str]) -> int:
    """Measure everything and write the tables in docs/reference."""
    return bench(["--full", *rest])


def docs(rest: list[str]) -> int:
    """Run every snippet of the documentation, and check that nothing is left out of it."""
    need("tests/docs")
    return run([str(set_up("dev")), "-m", "pytest", "tests/docs", *rest])


def lock(rest: list[str]) -> int:
    """Write the lock files anew from pyproject.toml, with the newest releases it allows (needs the network)."""
    take_nothing("lock", rest)
    set_up("dev")
    if not install_uv():
        raise Sorry("The lock files are written by uv, which could not be fetched. Is this machine online?")
    with tempfile.TemporaryDirectory() as folder:
        # Resolved beside the project: uv's own lock file records addresses, and is not kept.
        shutil.copy(ROOT / "pyproject.toml", folder)
        for which, narrower in (("run", ["--no-dev"]), ("dev", [])):
            say(f"Writing {LOCKS[which].name}.")
            fresh = Path(folder) / LOCKS[which].name
            command = [uv(), *LOCK_EXPORT, *narrower, "--project", folder, "--python", str(venv_python())]
            failed = quietly([*command, "--quiet", "--output-file", str(fresh)])
            if failed is not None:
                raise Sorry("The lock files stay as they were. uv said:", failed)
        for lock_file in LOCKS.values():
            shutil.copy(Path(folder) / lock_file.name, lock_file)
    return 0


def need(place: str) -> None:
    """Say so when a part of the project is not in this copy, before anything is installed for it."""
    if not (ROOT / place).exists():
        raise Sorry(f"This copy of Benchmates has no {place}.")


def take_nothing(verb: str, rest: list[str]) -> None:
    """Refuse words that a verb would only ignore."""
    if rest:
        raise Sorry(f"{verb} takes nothing further, but got: {' '.join(rest)}")


VERBS = {
    "setup": setup,
    "demo": demo,
    "test": test,
    "test-long": test_long,
    "bench": bench,
    "bench-full": bench_full,
    "check": check,
    "docs": docs,
    "lock": lock,
}


def usage() -> str:
    """The verbs, one a line."""
    lines = [f"  {name:<11}{(verb.__doc__ or '').splitlines()[0]}" for name, verb in VERBS.items()]
    return "\n".join(["python3 go.py VERB      (Windows: py go.py VERB)", *lines])


def main(arguments: list[str]) -> int:
    """Do what the first word says; failures that we can explain are explained."""
    too_old = refusal(tuple(sys.version_info[:3]))
    if too_old:
        print(too_old, file=sys.stderr)
        return 2
    if not arguments or arguments[0] not in VERBS:
        wrong = bool(arguments) and arguments[0] not in ("help", "-h", "--help")
        print(usage(), file=sys.stderr if wrong else sys.stdout)
        return 2 if wrong else 0
    try:
        return VERBS[arguments[0]](arguments[1:])
    except Sorry as sorry:
        print("\n".join(["", *sorry.args]), file=sys.stderr)
    except OSError as error:
        print(f"\nThis machine would not let that happen: {error}", file=sys.stderr)
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
