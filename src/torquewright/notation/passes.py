"""Words about passes: "step 1:", "first pass", "in three passes", "in thirds to", "in 5 N·m increments to"."""

from __future__ import annotations

from torquewright.notation.counting import number_at, part_at
from torquewright.notation.measured import Measured
from torquewright.notation.phrases import skip, text_at
from torquewright.notation.pulls import torque_pull
from torquewright.notation.shares import in_unit_of, shared, steps_to
from torquewright.notation.spelling import Token, words
from torquewright.notation.torques import torque_at
from torquewright.notation.unit_words import torque_unit_at

_NOUNS = frozenset(
    {"step", "stage", "pass", "phase", "round", "sequence", "steps", "stages", "tightening", "run", "lap"}
)
_ORDINALS = words(
    "first second third fourth fifth sixth seventh eighth firstly secondly thirdly initially initial "
    "final finally last lastly next preliminary pre"
)
NOT_GIVEN = "the figures of the passes before the last are not given"
_SUFFIXES = frozenset({"st", "nd", "rd", "th"})
_AFTER_ORDINAL = words(
    "pass stage step round time torque tightening setting value phase sequence run go circuit lap turn snug torque of"
)
_MARKS = frozenset({":", "to", "-", "=", ",", "at", "tighten", "torque", "tightening", ".", ")", "→", "all"})
_MANY = frozenset(
    {
        "passes",
        "steps",
        "stages",
        "rounds",
        "increments",
        "goes",
        "phases",
        "stage",
        "pass",
        "step",
        "circuits",
        "sequences",
        "laps",
        "bites",
    }
)
_PARTS = {"halves": 2, "thirds": 3, "quarters": 4, "fourths": 4, "fifths": 5, "sixths": 6, "tenths": 10}
_EQUAL = frozenset(
    {"equal", "even", "uniform", "increasing", "successive", "separate", "or", "more", "small", "crosswise"}
)
_UNTIL = words(
    "until till up to the all every each one is are at they reach reaches final torque of a it has have "
    "reached and value figure bolts screws nuts , full"
)

_ENDING = frozenset({":", "ending", "ends", "finishing", "with"})


def stage_label(toks: list[Token], i: int, *, ahead: bool = True) -> int | None:
    """Past the name of a stage at ``i``: "step 1:", "first pass", "2nd stage", "(1)", "a)"; None without one.

    ``ahead``: a pull must follow, so that "stage 12 N·m" is not taken for stage number twelve.
    """
    word = text_at(toks, i)
    j = None
    if word in _NOUNS:
        number = number_at(toks, i + 1)
        if number is not None and number[0].value == int(number[0].value) and number[0].value < 20:
            follows = torque_unit_at(toks, number[1])
            if follows is None and text_at(toks, number[1]) not in (
                "%",
                "°",
                "deg",
                "percent",
                "degrees",
                "turn",
                "turns",
            ):
                j = number[1]
        elif (
            len(text_at(toks, i + 1)) == 1
            and text_at(toks, i + 1).isalpha()
            and text_at(toks, i + 2) in (":", "=", "-", ")")
        ):
            j = i + 2
        if j is None and ahead and word in ("stage", "pass", "step", "stages", "steps"):
            j = i + 1
    elif word in _ORDINALS:
        j = skip(toks, i + 1, _AFTER_ORDINAL)
    elif (word == "the" and text_at(toks, i + 1) in _ORDINALS) or (
        text_at(toks, i + 1) in _SUFFIXES and toks[i].kind == "number"
    ):
        j = skip(toks, i + 2, _AFTER_ORDINAL)
    elif ahead and word == "(" and text_at(toks, i + 2) == ")" and i + 1 < len(toks) and _mark(toks[i + 1]):
        j = i + 3
    elif ahead and i + 1 < len(toks) and _mark(toks[i]) and text_at(toks, i + 1) in (")", ":"):
        j = i + 2
    if j is None:
        return None
    if ahead:
        j = skip(toks, j, _MARKS)
    return j


def _mark(tok: Token) -> bool:
    """A number or a letter as it stands in "(1)" or "a)"."""
    if tok.number is not None:
        return tok.kind == "number" and tok.number.value == int(tok.number.value) and tok.number.value < 20
    return tok.kind == "word" and (len(tok.text) == 1 or tok.text in ("ii", "iii", "iv"))


def passes_at(toks: list[Token], i: int) -> tuple[int | None, int, bool] | None:
    """The number of "in three passes" at ``i``, the index after it, and whether it stands ahead of its figures."""
    j = i
    if text_at(toks, j) in ("in", "over", "with", "using") or text_at(toks, j) == "(":
        j += 1
    number = number_at(toks, j)
    if number is None or part_at(toks, j) is not None:
        return None
    value = number[0].value
    if value != int(value) or not 1 <= value <= 12:
        return None
    k = skip(toks, number[1], _EQUAL)
    if text_at(toks, k) == "-":
        k += 1
    if text_at(toks, k) not in _MANY:
        return None
    k += 1
    if text_at(toks, i) == "(":
        if text_at(toks, k) != ")":
            return None
        return int(value), k + 1, False
    if j == i and text_at(toks, k) not in (":", "of", ","):
        return None
    return int(value), k, True


def steps_before(toks: list[Token], i: int) -> tuple[list[Measured], int, str] | None:
    """Equal steps up to a torque, written before it or after it; the pulls, the index after, and a doubt."""
    return _parts_to(toks, i) or _increments_to(toks, i) or _torque_in_steps(toks, i)


def _in(toks: list[Token], i: int) -> int:
    return i + 1 if text_at(toks, i) in ("in", "by", "with", "using") else i


def _equal_steps(toks: list[Token], i: int) -> tuple[int, int, str] | None:
    """How many equal steps "in thirds" or "in three equal steps" are, the index after it, a doubt."""
    if text_at(toks, i) not in ("in", "by", "with"):
        return None
    j = i + 1
    if text_at(toks, j) == "equal":
        j += 1
    if text_at(toks, j) in _PARTS:
        return _PARTS[text_at(toks, j)], j + 1, ""
    number = number_at(toks, j)
    if number is None or number[0].value != int(number[0].value) or not 2 <= number[0].value <= 12:
        return None
    k = skip(toks, number[1], _EQUAL)
    if text_at(toks, k) not in _MANY:
        return None
    equal = any(tok.text in ("equal", "even", "uniform") for tok in toks[j:k]) or text_at(toks, k) == "increments"
    return int(number[0].value), k + 1, "" if equal else NOT_GIVEN


def _rising(final: Measured, count: int) -> list[Measured]:
    return [*(shared(final, step / count) for step in range(1, count)), final]


def _parts_to(toks: list[Token], i: int) -> tuple[list[Measured], int, str] | None:
    equal = _equal_steps(toks, i)
    if equal is None:
        return None
    j = skip(toks, equal[1], _UNTIL | _ENDING)
    if text_at(toks, equal[1]) not in _UNTIL:
        return None
    pull = torque_pull(toks, j)
    if pull is None:
        return None
    if equal[2]:
        # "in two passes to 42 N·m": what comes first is not said, and nothing is made up
        if _another(toks, pull[1], pull[0]):
            return None
        return [pull[0]], pull[1], equal[2]
    return _rising(pull[0], equal[0]), pull[1], ""


def _another(toks: list[Token], j: int, held: Measured) -> bool:
    """Whether a second torque of the list follows ("20 N·m and 42 N·m")."""
    if text_at(toks, j) not in ("and", ",", "then", "&", ";", "/", "→", "("):
        return False
    k = skip(toks, j, frozenset({"and", ",", "then", "&", ";", "/", "→", "to"}))
    found = torque_at(toks, k)
    return text_at(toks, j) == "(" or found is not None


def _alone(toks: list[Token], i: int) -> tuple[Measured, int] | None:
    """A figure and its unit, whatever follows: in "steps of 5 N·m to 20 N·m" there is no range."""
    number = number_at(toks, i)
    unit = torque_unit_at(toks, number[1]) if number is not None else None
    if number is None or unit is None or not unit.name:
        return None
    held = Measured(number[0], unit)
    held.settle()
    return held, unit.after


def _step(toks: list[Token], i: int) -> tuple[Measured, int] | None:
    """The step of "5 N·m increments", "increments of 5 N·m", "5 N·m at a time", and the index after it."""
    j = _in(toks, i)
    if text_at(toks, j) == "the":
        j += 1
    if text_at(toks, j) in _MANY and text_at(toks, j + 1) == "of":
        return _alone(toks, j + 2)
    found = _alone(toks, j)
    if found is None:
        return None
    held, k = found
    if text_at(toks, k) == "-":
        k += 1
    if text_at(toks, k) in _MANY:
        return held, k + 1
    if [text_at(toks, k + n) for n in range(3)] == ["at", "a", "time"]:
        return held, k + 3
    return None


def _increments_to(toks: list[Token], i: int) -> tuple[list[Measured], int, str] | None:
    start: Measured | None = None
    j = i
    if text_at(toks, j) in ("from", "starting", "beginning"):
        k = skip(toks, j + 1, frozenset({"at", "with", "from"}))
        first = torque_at(toks, k)
        if first is None or first[0].nominal is None:
            return None
        start, j = first
    if not any(tok.text in _MANY or tok.text == "time" for tok in toks[j + 1 : j + 12]):
        return None
    step = _step(toks, j)
    if step is None:
        return None
    k = skip(toks, step[1], _UNTIL)
    if k == step[1]:
        return None
    pull = torque_pull(toks, k)
    if pull is None:
        return None
    size = in_unit_of(step[0], pull[0])
    begin = in_unit_of(start, pull[0]) if start is not None else None
    rungs = steps_to(pull[0], size, begin) if size is not None else None
    return (rungs, pull[1], "") if rungs is not None else None


def _torque_in_steps(toks: list[Token], i: int) -> tuple[list[Measured], int, str] | None:
    """``25 N·m in 5 N·m steps``, ``36 N·m in thirds``, ``36 N·m in three equal steps``."""
    if i >= len(toks) or toks[i].kind != "number" or not any(tok.text in ("in", "by") for tok in toks[i + 1 : i + 24]):
        return None
    found = torque_pull(toks, i)
    if found is None or found[0].nominal is None:
        return None
    held, j, _ = found
    k = j + 1 if text_at(toks, j) == "," else j
    if text_at(toks, k) not in ("in", "by"):
        return None
    equal = _equal_steps(toks, k)
    if equal is not None:
        if equal[2]:
            return [held], equal[1], equal[2]
        return _rising(held, equal[0]), equal[1], ""
    step = _step(toks, k)
    if step is None:
        return None
    size = in_unit_of(step[0], held)
    rungs = steps_to(held, size) if size is not None else None
    return (rungs, step[1], "") if rungs is not None else None
