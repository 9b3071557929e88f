"""A PostgreSQL of the tests' own: in a temporary folder, reached by a socket in it, and gone with them."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

DEBIAN = Path("/usr/lib/postgresql")
MISSING = "PostgreSQL is not there: apt-get install postgresql (scripts/setup.sh --tests does it as root)"


def programs() -> Path | None:
    """Return the folder of the newest server that is installed, None where there is none."""
    found = sorted(DEBIAN.glob("*/bin/initdb"), key=lambda p: int(p.parts[-3])) if DEBIAN.exists() else []
    if found:
        return found[-1].parent
    on_path = shutil.which("initdb")
    return Path(on_path).parent if on_path else None


def _somebody() -> dict[str, int]:
    """Return as whom the server runs: it refuses to run as root."""
    if os.geteuid() != 0:
        return {}
    for name in ("postgres", "nobody"):
        try:
            found = pwd.getpwnam(name)
        except KeyError:
            continue
        return {"user": found.pw_uid, "group": found.pw_gid}
    return {}


@contextmanager
def server() -> Iterator[str]:
    """Run a server, and give the address of its first database without the name of the database."""
    bin_folder = programs()
    assert bin_folder is not None, MISSING
    folder = Path(tempfile.mkdtemp(prefix="hb-pg-"))
    who = _somebody()
    if who:
        os.chown(folder, who["user"], who["group"])
    data, log = folder / "data", folder / "log"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.STDOUT, "cwd": "/", **who}
    init = [
        str(bin_folder / "initdb"),
        "-D",
        str(data),
        "-U",
        "halfbore",
        "-A",
        "trust",
        "-E",
        "UTF8",
        "--no-sync",
    ]
    control = [str(bin_folder / "pg_ctl"), "-D", str(data), "-w"]
    options = f"-c listen_addresses='' -k {folder} -c fsync=off -c max_connections=60"
    try:
        subprocess.run(init, check=True, **quiet)  # type: ignore[call-overload]
        subprocess.run([*control, "-l", str(log), "-o", options, "start"], check=True, **quiet)  # type: ignore[call-overload]
        yield f"postgresql://halfbore@/{{name}}?host={quote(str(folder), safe='')}"
    finally:
        subprocess.run([*control, "-m", "immediate", "stop"], check=False, **quiet)  # type: ignore[call-overload]
        shutil.rmtree(folder, ignore_errors=True)


def wait_until_left_alone(address: str) -> None:
    """Wait until nobody else is connected: what a killed process had begun is taken back or kept by then."""
    import psycopg

    others = (
        "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
    )
    with psycopg.connect(address, autocommit=True) as connection:
        for _ in range(500):
            if connection.execute(others).fetchone() == (0,):
                return
            time.sleep(0.02)
    raise AssertionError("somebody is still connected")
