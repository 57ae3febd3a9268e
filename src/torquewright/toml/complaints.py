"""What the parser complains of in a text that is no TOML, in words that say what to write instead."""

from __future__ import annotations

import re
from typing import NamedTuple

from torquewright.base.document import Document
from torquewright.toml.places import TomlPlaces
from torquewright.toml.scan import Lost
from torquewright.toml.slips import spelled

_PAIR = re.compile(r"""\s*([\w.-]+|"[^"]*"|'[^']*')\s*=\s*(.*?)\s*$""")
_HEADER = re.compile(r"\s*(\[\[?)\s*([\w.-]+)\s*(\]*)")
_COLON = re.compile(r"\s*([\w-]+)\s*:\s*(.*?)\s*$")
_SPACED = re.compile(r"\s*((?:[\w-]+ +)+[\w-]+)\s*=")
_CURLY = "“”„‟«»‘’‚"
_SWITCH = {"true": "true", "yes": "true", "on": "true", "false": "false", "no": "false", "off": "false"}


class Cure(NamedTuple):
    """A slip at the offsets ``start`` to ``end``, and how to get on without it: ``instead`` is written over the text
    from ``start`` on, or else the lines ``aside``, first and last, are put aside."""

    start: int
    end: int
    message: str
    wanted: str
    aside: tuple[int, int]
    instead: str | None = None


def cure_for(document: Document, places: TomlPlaces, complaint: str, start: int) -> Cure:
    """The slip behind a ``complaint``, which ends in the line and column where the parser noticed it.

    ``places`` are those of ``document``, whose TOML begins at ``start``.
    """
    return _Complaint(document, places, complaint, start).cure()


class _Complaint:
    """One complaint of the parser, looked at in its line."""

    __slots__ = ("_at", "_document", "_line", "_number", "_places", "_said", "_text", "_top")

    def __init__(self, document: Document, places: TomlPlaces, complaint: str, start: int) -> None:
        text = document.text
        where = re.search(r"\(at line (\d+), column (\d+)\)$", complaint)
        self._at = document.offset(int(where[1]), int(where[2])) if where else len(text)
        if not where and "end of document" not in complaint:
            # the parser gives no place for a number the interpreter refuses to convert
            digits = re.search(r"[\d_]{4000,}", text)
            self._at = digits.start() if digits else start
        self._said = complaint
        self._text = text
        self._document = document
        self._places = places
        self._number, _ = document.position(self._at)
        self._line = document.line(self._number)
        self._top = document.offset(self._number, 1)

    def cure(self) -> Cure:
        said, at, text = self._said, self._at, self._text
        header = _HEADER.match(self._line)
        lost = self._lost()
        if "digits" in said and "(at" not in said:
            return self._slip(at, self._value_end(at), "a number of thousands of digits", "a number somebody can read")
        if "overwrite" in said or "Duplicate" in said or "twice" in said or "namespace" in said:
            return self._twice(header)
        if "Unterminated" in said or "'\\n'" in said or "\"'" in said:
            return self._unclosed_quote(lost)
        if lost is not None and lost.opened is not None:
            opened, _ = self._document.position(lost.opened)
            if opened < self._number and (at >= len(text) or header or _PAIR.match(self._line)):
                return self._unclosed_bracket(lost.opened, opened)
        if "Unescaped" in said or "scalar" in said or "hex" in said:
            begin = max(text.rfind("\\", self._top, at), self._top)
            wanted = r"\\ for each backslash, or the text in single quotes: '…'"
            return self._slip(begin, max(at, begin + 1), "a backslash in a text in double quotes", wanted)
        found = text[at : at + 1]
        if "Illegal" in said or "invalid character" in said or (found and found < " " and found not in "\n\t"):
            return self._slip(at, at + 1, f"a control character, U+{ord(found or chr(0)):04X}", "a text without it")
        return self._inline() or (self._header(header) if header else self._value())

    def _lost(self) -> Lost | None:
        held = [lost for lost in self._places.lost() if lost.start <= self._at]
        if self._at >= len(self._text):
            # quotes that run to the end of the text: everything after the first of them is lost as well
            long = [lost for lost in held if self._text.startswith(('"""', "'''"), lost.at)]
            held = long[:1] or held
        return held[-1] if held else None

    def _slip(self, start: int, end: int, message: str, wanted: str, aside: tuple[int, int] | None = None) -> Cure:
        return Cure(start, max(start, end), message, wanted, aside or (self._number, self._number))

    def _whole_line(self, message: str, wanted: str) -> Cure:
        start = self._top + len(self._line) - len(self._line.lstrip())
        return self._slip(start, self._top + len(self._line.rstrip()), message, wanted)

    def _value_end(self, at: int) -> int:
        match = re.compile(r"[^,\]}\n#]*").match(self._text, at)
        end = match.end() if match else at
        return max(at + len(self._text[at:end].rstrip()), at + 1)

    def _twice(self, header: re.Match[str] | None) -> Cure:
        repeated = [held for held in self._places.repeated() if held[1][0] <= self._at]
        if header:
            message = f"[{header[2]}] once more, where there is one already"
            if repeated and repeated[-1][1][0] >= self._top:
                message = f"{message}, at {self._document.place(*repeated[-1][0])}"
            return self._whole_line(message, f"[[{header[2]}]] with two brackets, at each of them")
        if not repeated:
            return self._whole_line("a key that stands in the way of one above", "one of the two")
        first, second = repeated[-1]
        key = self._text[second[0] : second[1]]
        message = f"{key} a second time; the first is at {self._document.place(*first)}"
        begin, _ = self._document.position(second[0])
        return self._slip(second[0], second[1], message, "one of the two", (begin, self._number))

    def _unclosed_quote(self, lost: Lost | None) -> Cure:
        text = self._text
        start = lost.at if lost is not None and text[lost.at : lost.at + 1] in ('"', "'") else self._at
        begin, _ = self._document.position(start)
        quote = text[start : start + 1]
        if quote not in ('"', "'"):
            return self._whole_line("a line that breaks off", 'key = "value"')
        if text.startswith(quote * 3, start):
            last, _ = self._document.position(len(text))
            wanted = f"{quote * 3} at the end"
            return self._slip(start, start + 3, "quotes that are never closed", wanted, (begin, last))
        line_end = text.find("\n", start)
        end = line_end if line_end >= 0 else len(text)
        inside = text[start + 1 : end].rstrip().rstrip(",]} ")
        wanted = f"{quote}{spelled(inside)}{quote}"
        return self._slip(start, end, "a quote that is never closed", wanted, (begin, begin))

    def _unclosed_bracket(self, opened: int, line: int) -> Cure:
        bracket = self._text[opened]
        closing = "]" if bracket == "[" else "}"
        last = self._number if self._at >= len(self._text) else self._number - 1
        message = f"a {bracket} that is never closed"
        return self._slip(opened, opened + 1, message, f"{closing} after the last entry", (line, max(line, last)))

    def _inline(self) -> Cure | None:
        at, text = self._at, self._text
        found = text[at : at + 1]
        table = self._places.inline_around(at)
        if found == "}" and "key" in self._said and text[:at].rstrip().endswith(","):
            comma = text.rindex(",", 0, at)
            line, _ = self._document.position(comma)
            wanted = "no comma after the last entry: { a = 1, b = 2 }"
            return Cure(comma, comma + 1, "a comma ahead of the closing bracket", wanted, (line, self._number), " ")
        if table is not None and "\n" in text[table[0] : table[1]]:
            inside = text[table[0] : table[1]]
            first, _ = self._document.position(table[0])
            last, _ = self._document.position(table[1])
            plain = "#" not in inside and '"""' not in inside and "'''" not in inside
            # read on as if it stood on one line; a comma after its last entry goes the same way
            one_line = re.sub(r",(\s*\})$", r" \1", inside).replace("\n", " ") if plain else None
            end = table[0] + len(inside.split("\n")[0])
            message = "an inline table over more than one line"
            return Cure(table[0], end, message, "{ … } on one line", (first, last), one_line)
        if "Unclosed" in self._said:
            if found in ("]", "}"):
                opener = "{" if found == "]" else "["
                closing = "}" if found == "]" else "]"
                return self._slip(at, at + 1, f"a {opener} that is never closed", f"{closing} ahead of this {found}")
            message = "two entries without a comma between them"
            return self._slip(at, self._value_end(at), message, "a comma between them")
        return None

    def _header(self, header: re.Match[str]) -> Cure:
        brackets = "]" * len(header[1])
        wanted = f"{header[1]}{header[2]}{brackets}"
        if header[3] == brackets:
            return self._whole_line("more behind a header", f"{wanted} on a line of its own")
        return self._whole_line("a header without its closing brackets", wanted)

    def _value(self) -> Cure:
        colon, spaced = _COLON.match(self._line), _SPACED.match(self._line)
        if "'='" in self._said or not ("Expected" in self._said or "alue" in self._said or "date" in self._said):
            if colon:
                value = colon[2] if colon[2][:1] in ('"', "'") else f'"{colon[2] or "…"}"'
                return self._whole_line("a colon where = belongs", f"{colon[1]} = {value}")
            if spaced:
                return self._whole_line("a key with a space in it", f"{'-'.join(spaced[1].split())} =")
            return self._whole_line("neither a key with its value nor a header", 'key = "value", or [[step]]')
        pair = _PAIR.match(self._line)
        if pair and not pair[2].startswith(("[", "{")):
            start, end, value = self._top + pair.start(2), self._top + pair.end(2), pair[2]
        else:
            start, end = self._at, self._value_end(self._at)
            value = self._text[start:end]
        if pair and (not value or value[0] == "#"):
            return self._whole_line("a key without a value", f'{pair[1]} = "…"')
        return self._slip(start, end, *_bare(value))


def _bare(value: str) -> tuple[str, str]:
    if value[:1] in tuple(_CURLY):
        return "curly quotes", f'"{spelled(value.strip(_CURLY))}" in straight quotes'
    if value[:1] in ('"', "'"):
        return "more behind the closing quote", "one text in one pair of quotes"
    switch = _SWITCH.get(value.lower())
    if switch:
        return "not a word of TOML", f"{switch}, without quotes and in small letters"
    if re.fullmatch(r"[+-]?\d+,\d+", value):
        return "a decimal comma outside quotes", value.replace(",", ".")
    if re.match(r"\d{4}-\d\d-\d\d", value):
        return "not a day of the calendar", '"2027-01-31"'
    inside = value.replace("\\", "\\\\").replace('"', '\\"')
    return "a text without quotes", f'"{spelled(inside)}"'
