"""The job the benchmark checks: a made-up, sound procedure of 30 steps and 20 kinds of fastener in one TOML file
(about 19 kB), and the same told as a Markdown draft (about 8 kB: a table of the fasteners, then sentences).

It is written by rule, not by hand, so that it is the same everywhere and its size is known.
"""

from __future__ import annotations

FASTENERS = 20

_SIZES = (  # size, torque, its first pass, tool, socket: 8.8 screws in steel, common values
    ("M6x1", 9, 5, "small-wrench", "10 mm"),
    ("M8x1.25", 22, 12, "small-wrench", "13 mm"),
    ("M10x1.5", 44, 22, "large-wrench", "16 mm"),
    ("M12x1.75", 76, 38, "large-wrench", "18 mm"),
)
_PLACES = (
    "front cover", "rear cover", "bearing cap", "side plate", "oil pan", "pump body", "belt guard", "end bell",
    "motor foot", "valve plate",
)  # fmt: skip


def _name(number: int) -> str:
    return f"{_PLACES[number // 2]} {'bolt' if number % 2 else 'screw'}"


def _id(number: int) -> str:
    return _name(number).replace(" ", "-")


def _count(number: int) -> int:
    return 2 + number % 3 * 2


def _fastener(number: int) -> str:
    size, torque, first, _, drive = _SIZES[number % 4]
    staged = number % 2
    wanted = f"stage {first} N·m, then {torque} N·m ± {torque // 9}" if staged else f"{torque} N·m ± {torque // 9}"
    return f"""
[[fastener]]
id = "{_id(number)}"
name = "{_name(number)}"
count = {_count(number)}
size = "{size}"
property-class = "8.8"
drive = "hex {drive}"
mating-material = "steel"
bearing-material = "steel"
engagement = "{14 + number % 4 * 2} mm"
one-time-use = false
reuse = "free"
washer = {{ kind = "flat", count = 1, one-time-use = false }}
tightening = "{wanted}"
condition = "dry"
hand-start = true
pattern = "{"cross" if _count(number) >= 4 else "none"}"
safety = false
source = "made up"
"""


def _begun(number: int) -> tuple[str, list[str]]:
    """The sentence and the actions that put a joint together by hand."""
    count, name = _count(number), _id(number)
    return (
        f"Fit the {count} {_name(number)}s with their washers and start them all by hand.",
        [f'{{ reuse = "{name}", count = {count}, washer = "1 old" }}', f'{{ start = "{name}", count = {count} }}'],
    )


def _closed(number: int) -> tuple[str, list[str]]:
    """The sentence and the actions that tighten it."""
    _, torque, first, tool, drive = _SIZES[number % 4]
    count, wrench = _count(number), tool.replace("-", " torque ")
    order = ', order = "cross"' if count >= 4 else ""
    return (
        f"Tighten the {count} {_name(number)}s to {torque} N·m with the {wrench}, {drive} socket.",
        [
            f'{{ tighten = "{_id(number)}", count = {count}, to = "{stage} N·m", with = "{tool}"{order} }}'
            for stage in ((first, torque) if number % 2 else (torque,))
        ],
    )


def _step(say: str, actions: list[str]) -> str:
    listed = "".join(f"  {action},\n" for action in actions)
    return f'\n[[step]]\nsay = "{say}"\ndo = [\n{listed}]\n'


def draft() -> str:
    """The Markdown text: the tools, a table of the fasteners and the numbered steps, all in one file."""
    lines = ["# Strip and close the test rig", "", "Made up for the benchmark.", ""]
    lines += ["| Fastener | Size | Count | Torque | State |", "| --- | --- | --- | --- | --- |"]
    for number in range(FASTENERS):
        size, torque, _, _, _ = _SIZES[number % 4]
        wanted = f"{torque - torque // 9}–{torque + torque // 9} N·m"
        lines.append(f"| {_name(number)} | {size} | {_count(number)} | {wanted} | reuse |")
    lines += ["", "Tools: small torque wrench 5–25 N·m, large torque wrench 20–100 N·m.", ""]
    steps = ["Switch the rig off and lock the switch."]
    for first in range(0, FASTENERS, 5):
        named = ", ".join(f"the {_count(number)} {_name(number)}s" for number in range(first, first + 5))
        steps.append(f"Remove {named}. Keep their washers.")
    for number in range(FASTENERS):
        begun = f"Fit the {_count(number)} {_name(number)}s and start them by hand."
        closed = _in_words(number)
        steps += [begun, closed] if number < 4 else [f"{begun} {closed}"]
    steps.append("Record every torque and the date.")
    return "\n".join([*lines, *(f"{label}. {step}" for label, step in enumerate(steps, 1))]) + "\n"


def _in_words(number: int) -> str:
    _, torque, first, tool, drive = _SIZES[number % 4]
    stages = f"{first} N·m and then to {torque} N·m" if number % 2 else f"{torque} N·m"
    order = " crosswise" if _count(number) >= 4 else ""
    wrench = tool.replace("-", " torque ")
    return f"Tighten the {_count(number)} {_name(number)}s{order} to {stages} with the {wrench}, {drive} socket."


def job() -> str:
    """The TOML text: machine, fasteners, tools and steps in one file."""
    head = """# Made up for the benchmark by tools/benchmark_job.py.
title = "Strip and close the test rig"
job-date = "2026-11-20"

[machine]
name = "Test rig"
source = "made up for the benchmark"

[[tool]]
id = "small-wrench"
name = "small torque wrench"
kind = "torque wrench"
range = "5 to 25 N·m"
usable-from = "5 N·m"
deviation = "4 %"
calibrated-until = "2027-01-31"

[[tool]]
id = "large-wrench"
name = "large torque wrench"
kind = "torque wrench"
range = "20 to 100 N·m"
usable-from = "20 N·m"
deviation = "4 %"
calibrated-until = "2027-01-31"
"""
    steps = [_step("Switch the rig off and lock the switch.", ['{ isolate = "electrical supply" }'])]
    for first in range(0, FASTENERS, 5):
        group = range(first, first + 5)
        named = ", ".join(f"{_count(number)} {_name(number)}s" for number in group)
        removed = [f'{{ remove = "{_id(number)}", count = {_count(number)} }}' for number in group]
        steps.append(_step(f"Remove the {named}. Keep their washers.", removed))
    for number in range(FASTENERS):
        begun, closed = _begun(number), _closed(number)
        if number < 4:  # these take two steps each, which brings the job to its 30
            steps += [_step(*begun), _step(*closed)]
        else:
            steps.append(_step(f"{begun[0]} {closed[0]}", begun[1] + closed[1]))
    steps.append(_step("Record every torque and the date.", ['{ record = "torques" }']))
    return head + "".join(_fastener(number) for number in range(FASTENERS)) + "".join(steps)
