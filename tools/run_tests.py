"""Set up the test environment in the checkout and run ruff, mypy and pytest.

Run with any Python 3.11 or newer: ``python3 tools/run_tests.py``. Further words go to pytest, and then only pytest
runs: ``python3 tools/run_tests.py tests/test_examples.py -k sound``. The import contracts are among the tests.
"""

from __future__ import annotations

import subprocess
import sys

from own_environment import CHECKOUT, Trouble, own_environment


def main(words: list[str]) -> int:
    """Set up, then run everything; 0 only when all of it passed."""
    try:
        python = str(own_environment(".venv-tests", "test,editor"))
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return 1
    if words:
        return subprocess.run([python, "-m", "pytest", *words], cwd=CHECKOUT).returncode
    failed = []
    # pytest stands last, so that its closing line is the last thing a reader sees of a good run.
    for name, command in (
        ("ruff", ["ruff", "check", "--output-format", "concise", "."]),
        ("mypy", ["mypy"]),
        ("pytest", ["pytest", "-n", "2", "-q"]),
    ):
        print(f"== {name}", flush=True)
        if subprocess.run([python, "-m", *command], cwd=CHECKOUT).returncode != 0:
            failed.append(name)
    if failed:
        print(f"failed: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
