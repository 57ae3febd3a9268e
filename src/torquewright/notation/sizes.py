"""Thread sizes as the trade writes them: ``M8x1.25``, ``3/8-16 UNC``, ``#10-32``, ``G 1/4``, left hand or right.

Coarse pitches where the size states none: ISO 261, coarse series, M1.6 to M39 (read in two independent tables);
unified coarse and fine threads per inch: ASME B1.1, UNC and UNF (read in two independent tables). Numbered sizes
are 0.060 in + 0.013 in times the number (ASME B1.1).
"""

from __future__ import annotations

import re
from functools import lru_cache

from torquewright.notation.notread import NotRead
from torquewright.notation.spelling import folded
from torquewright.records.parts import Thread

# nominal diameter in mm -> coarse pitch in mm
COARSE_PITCH = {
    1.6: 0.35, 2.0: 0.4, 2.5: 0.45, 3.0: 0.5, 3.5: 0.6, 4.0: 0.7, 5.0: 0.8, 6.0: 1.0, 7.0: 1.0, 8.0: 1.25,
    10.0: 1.5, 12.0: 1.75, 14.0: 2.0, 16.0: 2.0, 18.0: 2.5, 20.0: 2.5, 22.0: 2.5, 24.0: 3.0, 27.0: 3.0, 30.0: 3.5,
    33.0: 3.5, 36.0: 4.0, 39.0: 4.0,
}  # fmt: skip

# size as written -> threads per inch, (UNC, UNF); 0 where the series has none
UNIFIED_THREADS = {
    "#4": (40, 48), "#5": (40, 44), "#6": (32, 40), "#8": (32, 36), "#10": (24, 32), "#12": (24, 28),
    "1/4": (20, 28), "5/16": (18, 24), "3/8": (16, 24), "7/16": (14, 20), "1/2": (13, 20), "9/16": (12, 18),
    "5/8": (11, 18), "3/4": (10, 16), "7/8": (9, 14), "1": (8, 12), "1-1/8": (7, 12), "1-1/4": (7, 12),
    "1-3/8": (6, 12), "1-1/2": (6, 12),
}  # fmt: skip

_SIZE_WANTED = 'a size such as "M8x1.25", "3/8-16 UNC", "#10-32" or "G 1/4"'
_INCH = 0.0254


@lru_cache(maxsize=1)
def _hand() -> re.Pattern[str]:
    return re.compile(
        r"[ ,-]*\(?(?:(l\.? ?h\.?|left(?:[ -]?hand(?:ed)?)?)|r\.? ?h\.?|right(?:[ -]?hand(?:ed)?)?)(?: thread)?\)?$"
    )


@lru_cache(maxsize=1)
def _metric() -> re.Pattern[str]:
    return re.compile(
        r"m ?([0-9]{1,3}(?:[.,][0-9]{1,2})?)(?: ?[x×*] ?([0-9]{1,3}(?:[.,][0-9]{1,3})?))?"
        r"(?: ?[x×*] ?([0-9]+(?:[.,][0-9]+)?)(?: ?mm)?)?(?: ?- ?[0-9][a-z](?:[0-9][a-z])?)?"
    )


@lru_cache(maxsize=1)
def _unified() -> re.Pattern[str]:
    series = "unc|unf|unef|un|uns|unr|unrc|unrf|unj|unjf|nc|nf"
    return re.compile(
        r"(?:(#|no\.? ?|number )?([0-9]{1,2})|((?:[0-9]-|[0-9] )?[0-9]{1,2}/(?:2|4|8|16|32|64)|[0-9]))"
        rf'(?: ?(?:in\.?|inch|"))?(?:(?: ?- ?| )([0-9]{{1,2}}))?(?:[ -]?({series}))?'
        r"(?:[ -]?[123][ab])?"
    )


@lru_cache(maxsize=1)
def _pipe() -> re.Pattern[str]:
    size = r"(?:[0-9](?:-| ))?[0-9]{1,2}/(?:2|4|8|16)|[0-9]{1,2}"
    return re.compile(
        rf'(g|rp|rc|r|nptf|npt|nps|bspp|bspt|bsp) ?({size})(?: ?(?:in\.?|"))?(?: ?([ab]))?'
        rf'|({size})(?: ?(?:in\.?|"))?(?: ?- ?([0-9]{{1,2}}(?:\.5)?))?[ -]?(g|nptf|npt|nps|bspp|bspt|bsp)'
    )


def inches(text: str) -> float:
    """``"1-1/8"``, ``"1 1/8"``, ``"3/8"`` or ``"1"`` in inches."""
    whole, _, part = text.replace("-", " ").rpartition(" ")
    top, slash, bottom = part.partition("/")
    return float(whole or 0) + (float(top) / float(bottom) if slash else float(top))


_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}


def spelled(text: str) -> str:
    """``text`` folded, in lower case, with fraction characters written out."""
    low = folded(text).lower().strip()
    for sign, fraction in _VULGAR.items():
        if sign in low:
            at = low.index(sign)
            gap = "-" if at and low[at - 1].isdigit() else ""
            low = low.replace(sign, gap + fraction)
    return low


@lru_cache(maxsize=1024)
def read_size(text: str) -> Thread:
    """The thread a size text names. Lengths in metres.

    A metric size without a pitch gets the coarse one of ISO 261 and ``pitch_stated`` False; a unified size with a
    series and no threads per inch likewise (ASME B1.1). Raises :class:`NotRead` for anything else.
    """
    low = spelled(text)
    hand = _hand().search(low)
    body = low[: hand.start()] if hand and hand.start() else low
    side = "left" if hand and hand.start() and hand.group(1) else "right"
    plain, comma, remark = body.partition(",")
    if comma and remark.strip() and not any(sign.isdigit() for sign in remark):
        body = plain.rstrip()  # "M14x1.5, cone seat"
    thread = _metric_size(text, body) or _pipe_size(text, body) or _unified_size(text, body) or _other_size(text, body)
    if thread is None:
        raise NotRead("this is no thread size", 0, len(text), _SIZE_WANTED)
    if side == "left":
        from attrs import evolve

        return evolve(thread, hand="left")
    return thread


def _metric_size(text: str, low: str) -> Thread | None:
    match = _metric().fullmatch(low)
    if match is None:
        return None
    diameter = float(match.group(1).replace(",", "."))
    if not 1 <= diameter <= 300:
        raise NotRead(f"there is no M{match.group(1)}", 0, len(text), _SIZE_WANTED)
    coarse = COARSE_PITCH.get(diameter)
    if match.group(2) is None:
        return Thread(text, "metric", diameter / 1e3, coarse / 1e3 if coarse else None)
    pitch = float(match.group(2).replace(",", "."))
    at = folded(text).lower().find(match.group(2), 1)
    if match.group(3) is not None:
        start = folded(text).lower().rfind(match.group(3))
        raise NotRead(
            "a length does not belong to the thread size", max(start, 0), len(text),
            f'size = "{text[:start].rstrip(" x×*X")}" and length = "{match.group(3)} mm"',
        )  # fmt: skip
    if not 0.2 <= pitch <= 8 or pitch >= diameter:
        fits = f"M{diameter:g}x{coarse:g}" if coarse else f"M{diameter:g}"
        raise NotRead(
            f"{match.group(2)} mm is no pitch of an M{diameter:g} thread", max(at, 0), len(text),
            f'size = "{fits}"' + (f', and length = "{match.group(2)} mm" if the length is meant' if pitch > 1 else ""),
        )  # fmt: skip
    return Thread(text, "metric", diameter / 1e3, pitch / 1e3, pitch_stated=True)


def _pipe_size(text: str, low: str) -> Thread | None:
    match = _pipe().fullmatch(low)
    if match is None:
        return None
    if match.group(1):
        series, count = match.group(1), None
    else:
        series, count = match.group(6), match.group(5)
    names = {"rp": "Rp", "rc": "Rc", "bspp": "G", "bspt": "R", "bsp": "BSP"}
    pitch = _INCH / float(count) if count else None
    return Thread(text, "pipe", None, pitch, pitch_stated=count is not None, series=names.get(series, series.upper()))


@lru_cache(maxsize=1)
def _other() -> re.Pattern[str]:
    return re.compile(
        r"(?P<bore>(?:[0-9]-)?[0-9]/(?:2|4|8|16)|[0-9]) ?(?:in\.? ?)?(?:- ?| )(?P<count>[0-9]{1,2}) ?(?P<name>bsw|bsf)"
        r"|(?P<inch>[0-9]\.[0-9]{1,3}) ?(?:in\.?|\")? ?[x×*-] ?(?P<tpi>[0-9]{2}) ?(?:tpi)?"
        r"|(?P<band>[0-9]{1,3} ?(?:-|to) ?[0-9]{1,3} ?mm(?: (?:band|clip|clamp|hose))?)"
    )


def _other_size(text: str, low: str) -> Thread | None:
    """Threads of other families, and the span of a band clip. Whitworth sizes bear their threads per inch; cycle
    threads are told in decimal inches and threads per inch ("1.37x24"). Nothing is computed for any of them."""
    match = _other().fullmatch(low)
    if match is None:
        return None
    if match.group("band"):
        return Thread(text, "", series="band")
    bore, count = match.group("bore") or match.group("inch"), match.group("count") or match.group("tpi")
    if not 3 <= int(count) <= 60:
        return None
    diameter = inches(bore) if match.group("bore") else float(bore)
    name = (match.group("name") or "").upper()
    return Thread(text, "", round(diameter * _INCH, 9), _INCH / int(count), pitch_stated=True, series=name)


def _unified_size(text: str, low: str) -> Thread | None:
    match = _unified().fullmatch(low)
    if match is None:
        return None
    mark, number, fraction, count, series = match.groups()
    if fraction is None and (mark is None and (count is None or int(number) < 3)):
        # "1-8 UNC" is one inch; "2" or "10" alone name nothing
        fraction, number = number, None
    if fraction is not None and count is None and not series:
        return None
    if fraction is None and count is None and series is None:
        return None
    if number is not None and fraction is None:
        if int(number) > 14:
            return None
        key, diameter = f"#{number}", 0.060 + 0.013 * int(number)
    else:
        assert fraction is not None
        key, diameter = fraction.replace(" ", "-"), inches(fraction)
    name = series.upper() if series else ""
    if count is not None:
        threads = int(count)
        if not 3 <= threads <= 80:
            return None
        return Thread(text, "unified", round(diameter * _INCH, 9), _INCH / threads, pitch_stated=True, series=name)
    coarse, fine = UNIFIED_THREADS.get(key, (0, 0))
    per_inch = coarse if name in ("UNC", "NC") else fine if name in ("UNF", "NF") else 0
    if not per_inch:
        raise NotRead(
            "the threads per inch are missing",
            0,
            len(text),
            f'size = "{text}" with its threads per inch, such as "3/8-16 UNC"',
        )
    return Thread(text, "unified", round(diameter * _INCH, 9), _INCH / per_inch, series=name)
