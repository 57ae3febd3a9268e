"""Score the reader: python tools/score_reading.py FILE.jsonl … for sentences, --drafts FOLDER for whole drafts.

Each line of a file is one object: ``text`` (one or a few sentences), ``before`` (the sentence before, or null),
``actions`` (verb and mode each), ``fasteners`` (span and quantity), ``torque`` (kind, figures, unit, demanded).
Prints the share of rows whose verbs and modes, joints and counts, and torque readings are right, how many rows are
wrong without showing it (wrong although the sentence is called read), and the confusion list.

How rows are compared. Verbs and modes: the same pairs, in any order. Joints and counts: the same fasteners, found
by overlapping spans, with the same quantity. Torque readings: the same figures, unit and "demanded" for every
labelled reading with a figure, and none besides; a label without a figure ("none") is not compared.

``--drafts FOLDER`` scores whole drafts against the answers beside them instead (see score_drafts.py).
"""

from __future__ import annotations

import argparse
import collections
import json
import sys
from pathlib import Path
from typing import Any, NamedTuple

from torquewright.base.units import from_si
from torquewright.reading.rows import read_lines
from torquewright.records.tightening import Tightening
from torquewright.sentences.sentence import Sentence

Row = dict[str, Any]


class Score(NamedTuple):
    """What was labelled and what was read for one row, part by part."""

    status: str
    wanted: dict[str, list[Any]]
    found: dict[str, list[Any]]
    misses: list[str]
    confusion: list[tuple[str, str]]
    leftover: list[str]


def score(row: Row) -> Score:
    """Read one row and compare it with its labels."""
    text = row["text"]
    sentences = read_lines(text, before=row.get("before") or "")
    verbs_wanted = sorted(f"{action['verb']}/{action['mode']}" for action in row["actions"])
    verbs_found = told_verbs(sentences)
    joints_wanted = [(held["start"], held["end"], held["quantity"], held["span"]) for held in row["fasteners"]]
    joints_found = [
        (thing.start, thing.end, thing.quantity, text[thing.start : thing.end])
        for sentence in sentences
        for thing in sentence.fasteners
    ]
    joints_found = [
        held
        for place, held in enumerate(joints_found)
        if not named_again(held[3], [before[3] for before in joints_found[:place]])
    ]
    torque_wanted = sorted(filter(None, (labelled(held) for held in row["torque"])))
    torque_found = sorted(
        filter(None, (told(held, demanded) for sentence in sentences for held, demanded in sentence.tightenings))
    )
    doubted = {f"without unit {held.split()[0]}" for held in torque_found}
    if any(held["kind"] == "wrong_unit" for held in row["torque"]) and all(
        reading.doubt for sentence in sentences for reading, _ in sentence.tightenings
    ):
        # "34 lb/ft": labelled as no unit of torque, read with the doubt that it is none
        torque_found = sorted(doubted & set(torque_wanted)) or torque_found
    misses = []
    if verbs_wanted != verbs_found:
        misses.append("verbs")
    if not same_joints(joints_wanted, joints_found):
        misses.append("joints")
    if torque_wanted != torque_found:
        misses.append("torque")
    confusion = pairs(verbs_wanted, verbs_found)
    order = {"read": 0, "in part": 1, "unread": 2}
    status = max((sentence.status for sentence in sentences), key=order.__getitem__, default="unread")
    leftover = [text[start:end] for sentence in sentences for start, end in sentence.leftover]
    return Score(
        status,
        {"verbs": verbs_wanted, "joints": joints_wanted, "torque": torque_wanted},
        {"verbs": verbs_found, "joints": joints_found, "torque": torque_found},
        misses,
        confusion,
        leftover,
    )


def told_verbs(sentences: list[Sentence]) -> list[str]:
    """Verb and mode of every deed of a row. What is only taken note of counts once, and not beside real deeds."""
    deeds = [deed for sentence in sentences for deed in sentence.told]
    real = [deed for deed in deeds if deed.lemma != "note"]
    return sorted(f"{deed.verb}/{deed.mode}" for deed in (real or deeds[:1]))


def named_again(name: str, before: list[str]) -> bool:
    """Whether a joint is only spoken of again ("the nut" after "slotted nut"): labels name it once."""
    words = name.lower().split()
    if name in before:
        return True
    return len(words) == 1 and any(
        other.lower().split()[-1:] == words and other.lower() != words[0] for other in before
    )


def same_joints(wanted: list[Any], found: list[Any]) -> bool:
    left = list(found)
    for start, end, quantity, _ in wanted:
        match = next((held for held in left if held[0] < end and start < held[1]), None)
        if match is None or match[2] != quantity:
            return False
        left.remove(match)
    return not left


def pairs(wanted: list[str], found: list[str]) -> list[tuple[str, str]]:
    """The verbs that differ, matched as well as can be."""
    missing = list((collections.Counter(wanted) - collections.Counter(found)).elements())
    extra = list((collections.Counter(found) - collections.Counter(wanted)).elements())
    result = []
    for label in missing:
        verb = label.split("/")[0]
        near = next((held for held in extra if held.split("/")[0] == verb), extra[0] if extra else "")
        if near:
            extra.remove(near)
        result.append((label, near))
    return result + [("", held) for held in extra]


def labelled_rows(path: Path) -> list[Row]:
    """The rows of one file. ValueError names the line and what is wrong with it."""
    rows = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if not line.strip():
            continue
        try:
            row = json.loads(line)
            for key in ("text", "actions", "fasteners", "torque"):
                if key not in row:
                    raise ValueError(f"has no \"{key}\"")
            for held in row["torque"]:
                labelled(held)
        except KeyError as missing:
            raise ValueError(f"{path}, line {number}: a torque of kind {held['kind']} has no {missing}") from None
        except ValueError as trouble:
            raise ValueError(f"{path}, line {number}: {trouble}") from None
        rows.append(row)
    return rows


def figures(*values: float | None) -> str:
    return " to ".join("" if value is None else f"{value:.4g}" for value in values)


def labelled(held: Row) -> str:
    """A labelled torque as a text to compare; "" for one without a figure."""
    kind = held["kind"]
    suffix = "" if held.get("demanded", True) else " (not demanded)"
    unit = held.get("unit") or ""
    if kind in ("none", "hand", "ref"):
        return ""
    if kind == "single":
        return f"{figures(held['nominal'])} {unit}{suffix}"
    if kind == "prevailing":
        return f"{figures(held['nominal'])} {unit} added{suffix}"
    if kind in ("range", "tolerance"):
        return f"{figures(held['min'], held['max'])} {unit}{suffix}"
    if kind == "min":
        return f"{figures(held['min'], None)} {unit}{suffix}"
    if kind == "max":
        return f"{figures(None, held['max'])} {unit}{suffix}"
    if kind in ("stage", "stage_angle"):
        # some authors write the seating torque of a stage_angle as its nominal
        stages = [str(stage) for stage in held["stages"]] if "stages" in held else [figures(held["nominal"])]
        angles = [f"{float(angle):.4g}°" for angle in held.get("angles_deg") or []]
        return f"{', '.join([*stages, *angles])} {unit}{suffix}"
    if kind in ("angle", "turns"):
        return f"{', '.join(f'{float(angle):.4g}°' for angle in held['angles_deg'])}{suffix}"
    if "min" in held:
        return f"without unit {figures(held['min'], held.get('max'))}{suffix}"
    return f"without unit {figures(held['nominal'])}{suffix}"


def told(held: Tightening, demanded: bool) -> str:
    """A tightening as read, in the same form."""
    suffix = "" if demanded else " (not demanded)"
    if not held.has_value:
        bare = [stage.torque for stage in held.stages if stage.torque is not None]
        if not bare:
            return ""
        low, high = bare[-1].low, bare[-1].high
        return f"without unit {figures(bare[-1].nominal) if low is None else figures(low, high)}{suffix}"
    torque = held.torque
    if torque is None:
        return f"{', '.join(f'{angle.nominal:.4g}°' for angle in held.angles)}{suffix}"
    unit = torque.unit

    def shown(value: float | None) -> float | None:
        return None if value is None or not unit else from_si(value, unit)

    if len(held.stages) > 1:
        stages = []
        for stage in held.stages:
            if stage.torque is not None:
                stages.append(figures(shown(stage.torque.target)))
            elif stage.angle is not None and stage.angle.nominal < 0:
                stages.append(f"back-off {-stage.angle.nominal:.4g}" if stage.angle.nominal > -9000 else "back-off")
            elif stage.angle is not None:
                stages.append(f"{stage.angle.nominal:.4g}°")
            else:
                stages.append("hand")
        return f"{', '.join(stages)} {unit}{suffix}"
    low, high = shown(torque.low), shown(torque.high)
    if torque.low is not None or torque.high is not None:
        return f"{figures(low, high)} {unit}{suffix}"
    return f"{figures(shown(torque.nominal))} {unit}{' added' if held.added else ''}{suffix}"


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("files", nargs="*", type=Path)
    parser.add_argument("--drafts", metavar="FOLDER", help="score whole drafts with answers beside them instead")
    parser.add_argument("--show", choices=("none", "wrong", "silent"), default="none", help="rows to print in full")
    parser.add_argument("--half", choices=("even", "odd"), help="only every second row")
    parser.add_argument("--only", default="verbs,joints,torque", help="which misses --show prints")
    options = parser.parse_args(arguments)
    if options.drafts:
        import score_drafts  # its neighbour in this folder, and its weight

        return score_drafts.main(options.drafts)
    try:
        rows = [row for path in options.files for row in labelled_rows(path)]
    except ValueError as trouble:
        print(trouble, file=sys.stderr)
        return 2
    if options.half:
        rows = rows[(0 if options.half == "even" else 1) :: 2]
    right: collections.Counter[str] = collections.Counter()
    confusion: collections.Counter[tuple[str, str]] = collections.Counter()
    states: collections.Counter[str] = collections.Counter()
    silent = 0
    for row in rows:
        held = score(row)
        states[held.status] += 1
        for name in ("verbs", "joints", "torque"):
            right[name] += name not in held.misses
        confusion.update(held.confusion)
        hidden = bool(held.misses) and held.status == "read"
        silent += hidden
        if (options.show == "wrong" and set(held.misses) & set(options.only.split(","))) or (
            options.show == "silent" and hidden
        ):
            show(row, held)
    total = len(rows) or 1
    print(f"rows                {len(rows)}")
    for name, title in (("verbs", "verbs and modes"), ("joints", "joints and counts"), ("torque", "torque readings")):
        print(f"{title:20}{right[name]}/{len(rows)}  {100 * right[name] / total:.1f} %")
    print(f"silently wrong      {silent}")
    print("status              " + ", ".join(f"{name} {count}" for name, count in sorted(states.items())))
    if confusion:
        print("confusion (labelled -> read):")
        for (wanted, found), count in confusion.most_common():
            print(f"  {count:3}  {wanted or '(nothing)'} -> {found or '(nothing)'}")
    return 0


def show(row: Row, held: Score) -> None:
    print(f"{row.get('id', '?')} [{held.status}] {', '.join(held.misses)}: {row['text']}")
    if row.get("before"):
        print(f"     before: {row['before']}")
    for name in held.misses:
        print(f"     {name}: labelled {held.wanted[name]}")
        print(f"     {' ' * len(name)}  read     {held.found[name]}")
    if held.leftover:
        print(f"     left over: {held.leftover}")


if __name__ == "__main__":
    sys.exit(main())
