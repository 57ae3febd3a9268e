"""Set Torquewright up in the checkout and check a bundled example with it.

Run with any Python 3.11 or newer: ``python3 tools/try_it.py``. Further words are handed to ``torquewright`` in place
of the example: ``python3 tools/try_it.py check my-procedure.toml``.
"""

from __future__ import annotations

import subprocess
import sys

from own_environment import CHECKOUT, Trouble, own_environment

EXAMPLE = "specs/examples/workboat-gearcase/faulty-1.toml"


def main(words: list[str]) -> int:
    """Set up, then run; the exit status is that of ``torquewright``, or 1 when setting up failed."""
    try:
        python = own_environment(".venv-try", "editor")
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return 1
    if words:
        return subprocess.run([str(python), "-m", "torquewright", *words]).returncode
    # From the checkout, so that the places it prints can be opened as they stand.
    print(f"$ torquewright check {EXAMPLE}\n", flush=True)
    status = subprocess.run([str(python), "-m", "torquewright", "check", EXAMPLE], cwd=CHECKOUT).returncode
    # 1 is the right answer here: this example has faults in it. The set-up worked, which is what was asked.
    print(f"\nExit status {status}. 0 go, 1 no-go, 4 ask first; the others are in README.md.")
    return 0 if status == 1 else status or 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
