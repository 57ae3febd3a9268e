"""Measure what Torquewright costs, as ratios taken in one run on one machine.

Run with any Python 3.11 or newer: ``python3 tools/benchmark.py [rounds]``. Each row sets a cost against a floor taken
in the same interleaved rounds, and compares the smallest of each: absolute times of two runs, or of two machines,
say nothing. It always leaves with 0; the verdict of each row is printed, and a slow machine breaks no build.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from benchmark_job import draft, job
from own_environment import Trouble, own_environment

ROUNDS = 21
WARM_UP = 3

# The floor under ``check``: parses its arguments, reads the same file, keeps what it read in plain records.
MINIMAL = '''
import argparse, tomllib

class Fastener:
    def __init__(self, id, name, **rest):
        self.id, self.name, self.rest = id, name, rest

class Action:
    def __init__(self, **words):
        self.words = words

class Step:
    def __init__(self, say, do):
        self.say, self.actions = say, tuple(Action(**words) for words in do)

parser = argparse.ArgumentParser()
parser.add_argument("verb")
parser.add_argument("files", nargs="*")
parser.add_argument("--catalogue")
parser.add_argument("--format", choices=("text", "json"), default="text")
args = parser.parse_args()
with open(args.files[0], "rb") as file:
    held = tomllib.load(file)
fasteners = [Fastener(**table) for table in held["fastener"]]
steps = [Step(**table) for table in held["step"]]
print(len(fasteners), len(steps))
'''

# Runs inside the environment: warm costs, again interleaved, smallest of each.
INSIDE = '''
import json, sys, tomllib
from time import perf_counter
from markdown_it import MarkdownIt
from torquewright import check

rounds, name, told = int(sys.argv[1]), sys.argv[2], sys.argv[3]
text, draft = (open(file, encoding="utf-8").read() for file in (name, told))
parser = MarkdownIt("commonmark").enable("table")
cases = {
    "loads": lambda: tomllib.loads(text),
    "check": lambda: check(name, text=text),
    "parse": lambda: parser.parse(draft),
    "draft": lambda: check(told, text=draft),
}
best = dict.fromkeys(cases, float("inf"))
for round in range(rounds + 3):
    for case, run in cases.items():
        begun = perf_counter()
        run()
        spent = perf_counter() - begun
        if round >= 3:
            best[case] = min(best[case], spent)
print(json.dumps(best))
'''


def _surroundings() -> dict[str, str]:
    # PYTHONDONTWRITEBYTECODE would make every start compile the sources anew; the others change what is imported.
    return {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}


def starts(commands: dict[str, list[str]], rounds: int) -> dict[str, float]:
    """The smallest wall-clock time of each command in seconds, all of them run once in every round."""
    best = dict.fromkeys(commands, float("inf"))
    surroundings = _surroundings()
    for number in range(rounds + WARM_UP):
        for name, command in commands.items():
            begun = perf_counter()
            done = subprocess.run(command, env=surroundings, capture_output=True)
            spent = perf_counter() - begun
            if done.returncode != 0:
                raise Trouble(f"{' '.join(command)} left with {done.returncode}:\n{done.stderr.decode()}")
            if number >= WARM_UP:
                best[name] = min(best[name], spent)
    return best


def row(what: str, against: str, cost: float, floor: float, target: float) -> str:
    """One line of the table: the ratio, the target and whether it is met."""
    ratio = cost / floor
    verdict = "met" if ratio <= target else f"missed by {ratio / target - 1:.0%}"
    left, right = f"{what:<28} {cost * 1e3:6.1f} ms", f"{against:<16} {floor * 1e3:6.1f} ms"
    return f"{left}   {right}   {ratio:5.2f}  {target:4.1f}  {verdict}"


def main(words: list[str]) -> int:
    """Measure and print; the exit status is 0 whatever was measured."""
    rounds = int(words[0]) if words else ROUNDS
    python = own_environment(".venv-try", "editor")
    own = python.parent / ("torquewright.exe" if os.name == "nt" else "torquewright")
    with tempfile.TemporaryDirectory() as folder:
        document, told, minimal = Path(folder, "job.toml"), Path(folder, "job.md"), Path(folder, "minimal.py")
        document.write_text(job(), encoding="utf-8")
        told.write_text(draft(), encoding="utf-8")
        minimal.write_text(MINIMAL, encoding="utf-8")
        cold = starts(
            {
                "bare": [str(python), "-c", "pass"],
                "help": [str(own), "--help"],
                "minimal": [str(python), str(minimal), "check", str(document)],
                "check": [str(own), "check", str(document)],
            },
            rounds,
        )
        inside = subprocess.run(
            [str(python), "-c", INSIDE, str(rounds * 3), str(document), str(told)],
            env=_surroundings(), capture_output=True, check=True,
        )  # fmt: skip
        warm = json.loads(inside.stdout)
        size, words = document.stat().st_size, told.stat().st_size
    python_told = sys.version.split()[0]
    print(f"Smallest of {rounds} interleaved rounds, Python {python_told}; TOML of {size} bytes, draft of {words}")
    print(f"{'cost':<37}   {'floor':<25}   ratio  goal")
    print(row("torquewright --help", "bare start", cold["help"], cold["bare"], 2.5))
    print(row("torquewright check job.toml", "minimal program", cold["check"], cold["minimal"], 2.5))
    print(row("read and check, warm", "tomllib.loads", warm["check"], warm["loads"], 2.0))
    print(row("read and check a draft, warm", "markdown-it-py", warm["draft"], warm["parse"], 2.0))
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        sys.exit(0)
