#!/usr/bin/env python3
"""Set up and run Oakum from a fresh checkout. Standard library only.

    python3 dev.py run demo       the invented Tolmarren wreck, in the terminal and in the browser
    python3 dev.py run ...        any other oakum command
    python3 dev.py test [...]     every test (further words go to pytest)
    python3 dev.py lock           maintainers: resolve the locks again

The first call makes .venv from a hash-pinned lock; later calls only compare a stamp.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")


def say(text: str) -> None:
    """Tell the person at the terminal what is happening, apart from the program's own output."""
    print(f"dev.py: {text}", file=sys.stderr, flush=True)


def environment() -> dict[str, str]:
    """Return the environment for child processes.

    Byte code is kept, or every start is slow. Linear algebra keeps to one thread: the matrices here are small and
    many, and threads of several processes only wait for each other.
    """
    env = dict(os.environ)
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    env.setdefault("UV_HTTP_TIMEOUT", "20")
    env.setdefault("OPENBLAS_NUM_THREADS", "1")
    return env


def call(*words: str | Path, quiet: bool = False) -> bool:
    """Run a child process; return whether it ended well."""
    out = subprocess.DEVNULL if quiet else sys.stderr
    try:
        return (
            subprocess.run([str(w) for w in words], env=environment(), stdout=out, stderr=out).returncode == 0
        )
    except FileNotFoundError:
        return False


def root_on_debian() -> bool:
    """Whether missing Debian packages may be installed without asking."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def debian(*packages: str) -> bool:
    """Install Debian packages; only called as root."""
    say(f"installing {' '.join(packages)}")
    call("apt-get", "update", quiet=True)
    return call("apt-get", "install", "-y", "--no-install-recommends", *packages, quiet=True)


def stamp_of(kind: str) -> str:
    """Fingerprint of all that decides what stands in the environment."""
    digest = hashlib.sha256(sys.version.encode())
    for name in (f"locks/{kind}.lock", "locks/installer.lock", "pyproject.toml"):
        digest.update((ROOT / name).read_bytes())
    return f"{digest.hexdigest()} {ROOT}"


def ready(kind: str) -> bool:
    """Whether .venv already holds what the lock of this kind asks for."""
    stamp = VENV / f"oakum-{kind}.stamp"
    return PYTHON.exists() and stamp.exists() and stamp.read_text() == stamp_of(kind)


def make_venv() -> None:
    """Create an empty .venv, or end with one sentence that says what to install."""
    for attempt in (1, 2):
        shutil.rmtree(VENV, ignore_errors=True)
        if call(sys.executable, "-m", "venv", VENV, quiet=True) and call(
            PYTHON, "-m", "pip", "--version", quiet=True
        ):
            return
        if attempt == 1 and not (root_on_debian() and debian("python3-venv", "python3-pip")):
            break
    shutil.rmtree(VENV, ignore_errors=True)
    sys.exit(
        f"The Python at {sys.executable} cannot make a virtual environment with pip; "
        "install its venv and pip parts (on Debian and Ubuntu: apt install python3-venv) and run this again."
    )


def install(kind: str) -> None:
    """Bring .venv to the lock of this kind: the fast installer first, pip with hashes where it fails."""
    began = time.monotonic()
    say(f"making .venv for '{kind}' (once; needs the network and about a minute)")
    if not PYTHON.exists():
        make_venv()
    lock = ROOT / "locks" / f"{kind}.lock"
    pip = (PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check")
    fast = (PYTHON, "-m", "uv", "pip", "install", "--quiet", "--python", PYTHON)
    done = (
        call(*pip, "--require-hashes", "-r", ROOT / "locks/installer.lock", quiet=True)
        and call(*fast, "--require-hashes", "--compile-bytecode", "-r", lock, quiet=True)
    ) or call(*pip, "--require-hashes", "--compile", "-r", lock)
    if not done:
        sys.exit(
            "The packages could not be installed. Check the network, or install from a folder of wheels: "
            "set PIP_NO_INDEX=1 and PIP_FIND_LINKS=FOLDER and run this again."
        )
    if not call(*pip, "--no-deps", "--no-build-isolation", "--editable", ROOT):
        sys.exit("Oakum itself could not be installed into .venv; the lines above say why.")
    call(PYTHON, "-m", "compileall", "-q", ROOT / "src", quiet=True)
    for made in ("run", "test") if kind == "test" else ("run",):
        (VENV / f"oakum-{made}.stamp").write_text(stamp_of(made))
    say(f"ready after {time.monotonic() - began:.0f} s")


def browser() -> str:
    """Find a Chromium for the page tests or install one; a missing browser fails the tests."""
    chosen = os.environ.get("OAKUM_BROWSER") or next((p for p in map(shutil.which, BROWSERS) if p), None)
    if not chosen and root_on_debian() and debian("chromium"):
        chosen = shutil.which("chromium")
    if not chosen and call(PYTHON, "-m", "playwright", "install", "chromium"):
        code = "from playwright.sync_api import sync_playwright as s\nwith s() as p: print(p.chromium.executable_path)"
        chosen = (
            subprocess.run([str(PYTHON), "-c", code], capture_output=True, text=True).stdout.strip() or None
        )
    if not chosen:
        sys.exit(
            "No browser for the page tests: install Chromium (on Debian: apt install chromium) "
            "or name one in OAKUM_BROWSER."
        )
    return chosen


def main(words: list[str]) -> int:
    """Dispatch the first word."""
    if sys.version_info < (3, 11):  # noqa: UP036 - this file must be able to say it on an older Python
        sys.exit(
            f"Oakum needs Python 3.11 or newer; this is {sys.version.split()[0]}. Install one and run this again."
        )
    command, rest = (words[0], words[1:]) if words else ("", [])
    if command == "run":
        if not ready("run"):
            install("run")
        return subprocess.run([str(PYTHON), "-m", "oakum", *rest], env=environment()).returncode
    if command == "test":
        if not ready("test"):
            install("test")
        env = {**environment(), "OAKUM_BROWSER": browser()}
        parallel = [] if any(word.startswith("-n") for word in rest) else ["-n", "2", "--dist", "loadfile"]
        return subprocess.run([str(PYTHON), "-m", "pytest", *parallel, *rest], env=env, cwd=ROOT).returncode
    if command == "lock":
        return 0 if all(resolve(kind) for kind in ("installer", "run", "test")) else 1
    print(__doc__)
    return 2


def resolve(kind: str) -> bool:
    """Write the lock of this kind anew; no address stands in it."""
    plain = ("--universal", "--generate-hashes", "--no-annotate", "--no-header", "--upgrade", "--quiet")
    return call(
        PYTHON,
        "-m",
        "uv",
        "pip",
        "compile",
        *plain,
        f"locks/{kind}.in",
        "-o",
        f"locks/{kind}.lock",
        quiet=True,
    )


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
