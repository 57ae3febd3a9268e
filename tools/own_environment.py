"""Make a virtual environment inside the checkout, with Torquewright and pinned packages in it, once.

The two set-up commands (``try_it.py`` and ``run_tests.py``) stand on this. It needs nothing but Python 3.11 or newer
and pip. A second call finds the stamp of the first and returns at once.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parent.parent
PINNED = CHECKOUT / "tools" / "pinned.txt"
STAMP = "torquewright-stamp"


class Trouble(Exception):
    """The environment could not be made; the text says what to do about it."""


def _python_of(folder: Path) -> Path:
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _wanted_stamp(extras: str) -> str:
    # Whatever of these changes, the environment is made anew: the pins, the dependencies, Python, the place.
    digest = hashlib.sha256()
    for part in (PINNED.read_bytes(), (CHECKOUT / "pyproject.toml").read_bytes()):
        digest.update(part)
    for word in (extras, sys.version, sys.executable, str(CHECKOUT)):
        digest.update(word.encode())
    return digest.hexdigest()


def _has_module(name: str) -> bool:
    return subprocess.run([sys.executable, "-c", f"import {name}"], capture_output=True).returncode == 0


def _make(folder: Path) -> list[str]:
    """Make the empty environment; returns the pip command that installs into it."""
    python = str(_python_of(folder))
    if not _has_module("venv"):
        raise Trouble(
            f"{sys.executable} has no venv module, so no environment can be made.\n"
            "On Debian or Ubuntu: apt-get install python3-venv. Elsewhere: install a complete Python 3.11 or newer."
        )
    if _has_module("ensurepip"):
        subprocess.run([sys.executable, "-m", "venv", str(folder)], check=True)
        return [python, "-m", "pip"]
    # Debian's python3 comes without ensurepip. The pip outside can install into the new environment instead.
    if not _has_module("pip"):
        raise Trouble(
            f"{sys.executable} has neither ensurepip nor pip, so nothing can be installed.\n"
            "On Debian or Ubuntu: apt-get install python3-venv python3-pip. Then run this command again."
        )
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(folder)], check=True)
    return [sys.executable, "-m", "pip", "--python", python]


def own_environment(name: str, extras: str = "") -> Path:
    """The Python of the environment ``name`` in the checkout, made first if need be.

    ``extras`` are the optional dependencies to install, as in ``"test,editor"``. Raises :class:`Trouble` with what to
    do about it when Python is too old, a piece of it is missing or pip fails.
    """
    if sys.version_info < (3, 11):  # noqa: UP036  (this file runs before anything has looked at the version)
        raise Trouble(f"Torquewright needs Python 3.11 or newer; this is {sys.version.split()[0]} ({sys.executable}).")
    folder = CHECKOUT / name
    stamp = folder / STAMP
    wanted = _wanted_stamp(extras)
    if stamp.is_file() and stamp.read_text() == wanted and _python_of(folder).exists():
        return _python_of(folder)

    print(f"Setting up {name} (once; needs the network) …", file=sys.stderr, flush=True)
    if folder.exists():
        shutil.rmtree(folder)
    pip = _make(folder)
    target = f"{CHECKOUT}[{extras}]" if extras else str(CHECKOUT)
    # The build of the package itself runs in an environment of pip's own; these two variables pin that one too.
    # pip cuts their values at spaces, so a checkout in "My files" needs the address of the file, not its path.
    pins = PINNED.as_uri()
    surroundings = dict(os.environ, PIP_CONSTRAINT=pins, PIP_BUILD_CONSTRAINT=pins)
    install = [*pip, "install", "-qq", "--disable-pip-version-check", "--editable", target]
    if subprocess.run(install, env=surroundings).returncode != 0:
        raise Trouble(
            "pip could not install Torquewright and its packages; what it said stands above.\n"
            "It needs a package index: see that the network, or the index named in pip's configuration, can be reached."
        )
    stamp.write_text(wanted)
    return _python_of(folder)
