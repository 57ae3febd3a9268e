"""Angles of turn: degrees, radians, turns and parts of a turn, flats of a hexagon, and where they are counted from."""

from __future__ import annotations

from torquewright.notation.counting import number_at, part_at
from torquewright.notation.limits import LEADS
from torquewright.notation.numbers import Number
from torquewright.notation.phrases import phrase_at, phrases, skip, text_at
from torquewright.notation.spelling import Token, words
from torquewright.records.tightening import LOOSE, Angle

_TURN = 360.0
_FLAT = 60.0
_RADIAN = 57.29577951308232

_UNITS = {
    **dict.fromkeys(("°", "deg", "degs", "degree", "degrees"), 1.0),
    **dict.fromkeys(("rad", "rads", "radian", "radians"), _RADIAN),
    **dict.fromkeys(("turn", "turns", "rev", "revs", "revolution", "revolutions", "rotation", "rotations"), _TURN),
    **dict.fromkeys(("flat", "flats"), _FLAT),
}
_BETWEEN = words("- of a one the full complete whole hex hexagon nut entire more further additional extra")
_PULLS = words("turns steps stages pulls moves goes increments times movements rotations passes")
_BACK = phrases(
    {
        "back": "back off | back out | back it off | back it out | back them off | backed off | back | loosen | "
        "loosen it | loosen by | slacken | slacken off | slacken by | unscrew | undo | release | turn back | "
        "ease off | ease back | minus"
    }
)
_LEAD = words(
    "a an further another additional extra through by turn rotate tighten advance angle to of the final more "
    "it them then screw give + in about approximately approx ~ . : = an at"
)
_FIND_LEAD = words("a an further another additional extra about approximately approx ~ .")
_TAIL = phrases(
    {
        "more": "more | further | extra | again | additional",
        "each": "at a time | each time | each | per pass | at each pass | in turn | only | and no more | no more | "
        "increments | steps",
        "of": "of the nut | of the hexagon | of the hex | of the head | of the bolt head | of hexagon | of a hexagon | "
        "of the nut's hexagon",
        "max": "max | maximum | ( max ) | at most | or less | , max",
        "min": "min | minimum | ( min ) | at least | or more | , min",
        "arc": "wrench arc | spanner arc | of wrench arc | arc of the wrench | arc | of arc | turn | turns | "
        "rotation | of rotation | angle | of turn | of angle | torque angle | of wrench travel | clockwise | "
        "movement | of travel | of the wrench",
        "back": "back | counter clockwise | counterclockwise | anti clockwise | anticlockwise | backwards | loose",
    }
)
_FROM = frozenset({"past", "beyond", "after", "from", "once", "when", "over"})
_CONTACT = words(
    "finger fingers hand thumb tight tightened tightening snug snugged the a an it its gasket washer seal "
    "ring o head nut bolt screw plug filter seat seats seated seating touches touch touching contacts contact "
    "contacting makes made meets reached point position of first initial resistance face surface is has been felt and "
    "flush down bottoms bottomed bottoming lightly just firmly crush sealing mating base housing lands landed with by "
    "that being joint cap cover block body - ' s stage torque level initially flange flanges both hex light firm seal "
    "initial"
)
_SEATED = words(
    "tight tightened snug snugged contact contacts touches touch seated seats seating resistance bottoms lands seat"
)


_ONE = frozenset({"a", "one", "another", "further", "additional", "extra"})


class AngleRead:
    """An angle notation: its angles in order, whether it is written in turns, whether it counts from a hand-tight
    or seated fastener, what is doubtful, and the index of the token after it."""

    __slots__ = ("after", "angles", "doubt", "from_seat", "readings", "turns")

    def __init__(self, angles: tuple[Angle, ...], turns: bool, after: int, doubt: str = "") -> None:
        self.angles = angles
        self.turns = turns
        self.after = after
        self.doubt = doubt
        self.readings: tuple[str, ...] = ()
        self.from_seat = False


def _unit(toks: list[Token], i: int) -> tuple[float, int] | None:
    """An angle unit at ``i``: degrees in one of it, and the index after it."""
    j = skip(toks, i, _BETWEEN)
    factor = _UNITS.get(text_at(toks, j))
    if factor is None:
        return None
    if factor == _FLAT and text_at(toks, j + 1).startswith(("washer", "spring", "head", "face", "screw")):
        return None  # "two flat washers"
    if factor == 1.0:
        following = text_at(toks, j + 1)
        if following in ("c", "f", "celsius", "fahrenheit", "k"):
            return None
        if toks[j].text == "deg" and following == ".":
            following = text_at(toks, j + 2)
            if j + 2 >= len(toks) or not toks[j + 2].raw[:1].isupper():
                return factor, j + 2
    return factor, j + 1


def backed_off(toks: list[Token], i: int) -> AngleRead | None:
    """ "Back off" with no word of how far, where a further pull follows."""
    back = phrase_at(toks, i, _BACK)
    if back is None or text_at(toks, back[1]) not in (",", ";", "and", "then", "→"):
        return None
    return AngleRead((Angle(LOOSE),), True, back[1])


def _one(toks: list[Token], i: int, *, between: bool = False) -> AngleRead | None:
    """One angle without its lead: ``90°``, ``90 ± 5°``, ``1/2 to 3/4 turn``, ``2 × 45°``, ``a quarter turn``."""
    word = text_at(toks, i)
    if word == "right" and text_at(toks, i + 1) in ("angle", "angles"):
        read = AngleRead((Angle(90.0),), False, i + 2, "a right angle is a shape; used as a turn it is 90°")
        read.readings = ("90°",)
        return read
    if word in _BARE:
        return _bare(toks, i)
    first = number_at(toks, i)
    if first is None:
        return None
    number, j = first
    times = 1
    if text_at(toks, j) in _PULLS and text_at(toks, j + 1) == "of":
        j += 1
    if text_at(toks, j) in ("×", "x", "times", "*", "of") and (
        text_at(toks, j) != "of" or text_at(toks, j - 1) in _PULLS
    ):
        second = number_at(toks, j + 1)
        if second is None or number.value != int(number.value) or not 1 <= number.value <= 12:
            return None
        times = int(number.value)
        number, j = second
    unit = _unit(toks, j)
    after = unit[1] if unit is not None else j
    sign = text_at(toks, after)
    high: Number | None = None
    width: tuple[float, float] | None = None
    if sign in ("-", "to", "or", "~", "..", "...", "…", "thru", "through") or (between and sign in ("and", "&")):
        other = number_at(toks, after + 1)
        if other is not None:
            again = _unit(toks, other[1])
            if again is not None and (unit is None or unit[0] == again[0]):
                high, unit = other[0], again
    elif sign in ("±", "+/-", "+-", "+", "("):
        limits = _limits(toks, after, unit)
        if limits is not None:
            width, unit = limits
    if unit is None:
        return None
    factor, j = unit
    value = number.value * factor
    more = _and_part(toks, j) if factor == _TURN else None
    if more is not None:
        value, j = value + more[0] * factor, more[1]
    if high is not None:
        top = high.value * factor
        angle = Angle((value + top) / 2, min(value, top), max(value, top))
    elif width is not None:
        angle = Angle(value, value + width[0] * factor, value + width[1] * factor)
    else:
        angle = Angle(value)
    if text_at(toks, j) == "twice":
        times, j = 2, j + 1
    return AngleRead((angle,) * times, factor == _TURN, j)


_BARE = frozenset({"full", "complete", "whole", "turn", "revolution", "flat"})


def _bare(toks: list[Token], i: int) -> AngleRead | None:
    """One turn or one flat without a figure: "a full turn", "another flat", "a turn and a half"."""
    unit = _unit(toks, i)
    before = text_at(toks, i - 1)
    if unit is None or (before not in _ONE and (before or toks[i].text in ("turn", "revolution", "flat"))):
        return None
    degrees, after = unit
    extra = _and_part(toks, after) if degrees == _TURN else None
    if extra is not None:
        degrees, after = degrees + extra[0] * _TURN, extra[1]
    return AngleRead((Angle(degrees),), unit[0] == _TURN, after)


def _limits(
    toks: list[Token], i: int, unit: tuple[float, int] | None
) -> tuple[tuple[float, float], tuple[float, int]] | None:
    """The tolerance at ``i`` of an angle whose unit is ``unit`` if it had one: the deviations, and the unit with the
    index after it all."""
    bracket = text_at(toks, i) == "("
    spread = _spread(toks, i)
    if spread is None:
        return None
    again = _unit(toks, spread[2])
    own = unit if unit is not None or bracket else again
    if own is None or (again is not None and again[0] != own[0]):
        return None  # "90° + 2 turns": two angles
    end = again[1] if again is not None else spread[2]
    if bracket:
        if text_at(toks, end) != ")":
            return None
        end += 1
    return spread[:2], (own[0], end)


def _and_part(toks: list[Token], i: int) -> tuple[float, int] | None:
    """The fraction of "and a half" after "a turn", and the index after it."""
    if text_at(toks, i) != "and" or text_at(toks, i + 1) not in ("a", "one"):
        return None
    part = part_at(toks, i + 1)
    if part is None or part[0].value >= 1 or _unit(toks, part[1]) is not None:
        return None
    return part[0].value, part[1]


def _spread(toks: list[Token], i: int) -> tuple[float, float, int] | None:
    """``± 5``, ``+5 -0``, ``+5°/-0°``: lower and upper deviation, and the index after the last figure."""
    if text_at(toks, i) == "(":
        i += 1
    sign = text_at(toks, i)
    first = number_at(toks, i + 1)
    if first is None:
        return None
    if sign in ("±", "+/-", "+-"):
        return -first[0].value, first[0].value, first[1]
    if sign != "+":
        return None
    j = first[1]
    unit = _unit(toks, j)
    if unit is not None:
        j = unit[1]
    if text_at(toks, j) in ("/", ",", ";"):
        j += 1
    second = number_at(toks, j + 1) if text_at(toks, j) == "-" else None
    if second is None:
        return None
    return -second[0].value, first[0].value, second[1]


def angle_at(toks: list[Token], i: int, *, finding: bool = False) -> AngleRead | None:
    """The angle notation at token ``i``, with its lead and what it counts from; None if there is none.

    ``finding``: inside a sentence, where verbs before an angle belong to the sentence.
    """
    back = phrase_at(toks, i, _BACK)
    limit = phrase_at(toks, i, LEADS) if back is None else None
    between = limit is not None and limit[0] in ("between", "from")
    if limit is not None and limit[0] not in ("max", "min", "between", "from"):
        limit = None
    j = back[1] if back is not None else limit[1] if limit is not None else i
    read = None
    for k in range(j, min(j + 8, len(toks))):
        read = _one(toks, k, between=between)
        if read is not None or toks[k].text not in (_FIND_LEAD if finding and back is None else _LEAD):
            break
    if read is None:
        return None
    if limit is not None and not between:
        _bound(read, limit[0])
    _tail(toks, read)
    if back is not None:
        _loosen(read)
    return read


def _bound(read: AngleRead, limit: str) -> None:
    """Make the one angle a limit: "not more than 90°"."""
    angle = read.angles[0]
    if len(read.angles) == 1 and angle.low is None and angle.high is None:
        value = angle.nominal
        read.angles = (Angle(value, high=value) if limit == "max" else Angle(value, low=value),)


def _loosen(read: AngleRead) -> None:
    read.angles = tuple(
        Angle(-angle.nominal, None if angle.high is None else -angle.high, None if angle.low is None else -angle.low)
        for angle in read.angles
    )


def _split(toks: list[Token], read: AngleRead) -> int | None:
    """The angle in equal parts, where "180° in two stages of 90°" says so."""
    if text_at(toks, read.after) != "in" or len(read.angles) != 1:
        return None
    number = number_at(toks, read.after + 1)
    if number is None or not 2 <= number[0].value <= 12 or number[0].value != int(number[0].value):
        return None
    j = skip(toks, number[1], frozenset({"equal", "separate"}))
    if text_at(toks, j) not in _PULLS:
        return None
    j += 1
    count = int(number[0].value)
    angle = read.angles[0]
    part = Angle(
        angle.nominal / count,
        None if angle.low is None else angle.low / count,
        None if angle.high is None else angle.high / count,
    )
    if text_at(toks, j) == "of":
        each = _one(toks, j + 1)
        if each is None or abs(each.angles[0].nominal * count - angle.nominal) > 0.5:
            return None
        j = each.after
    read.angles = (part,) * count
    return j


def _tail(toks: list[Token], read: AngleRead) -> None:
    """What follows an angle: "more", "wrench arc", "past finger-tight", the same again in brackets."""
    while True:
        tail = phrase_at(toks, read.after, _TAIL)
        if tail is not None:
            if tail[0] == "back":
                _loosen(read)
            elif tail[0] in ("max", "min"):
                _bound(read, tail[0])
            read.after = tail[1]
            continue
        split = _split(toks, read)
        if split is not None:
            read.after = split
            continue
        sign = text_at(toks, read.after)
        if sign in ("(", "[", "="):
            start = skip(toks, read.after + 1, frozenset({"=", "about", "~", "i", "e", ".", "approx"}))
            again = _one(toks, start)
            if again is not None and (sign == "=" or text_at(toks, again.after) in (")", "]")):
                if abs(again.angles[0].nominal - read.angles[0].nominal) > 1.5:
                    read.doubt = "the two ways of writing the angle disagree"
                    read.readings = (f"{read.angles[0].nominal:g}°", f"{again.angles[0].nominal:g}°")
                read.after = again.after + (sign != "=")
                continue
        start = read.after + 1 if sign == "," else read.after
        if text_at(toks, start) in _FROM:
            stop = skip(toks, start + 1, _CONTACT)
            if stop > start + 1 and any(tok.text in _SEATED for tok in toks[start:stop]):
                while toks[stop - 1].text in ("-", "'", "and", "the", "a", "of", "is", "by", "with", "that", "torque"):
                    stop -= 1
                read.from_seat = True
                read.after = stop
                continue
        return
