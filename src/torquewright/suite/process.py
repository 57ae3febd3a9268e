"""A program as the subject of the suite: it reads one JSON object a line and answers with one a line.

    to the program:    {"case": "…", "form": "toml", "text": "…"}
    from the program:  {"case": "…", "findings": [{"rule": "…", "step": "2", "joint": "…", "certainty": "certain"}]}
    or:                {"case": "…", "error": "why there are no findings"}

The program ends when its input ends. It never sees what a case demands.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterable
from contextlib import suppress
from json import JSONDecodeError, dumps, loads
from subprocess import PIPE, Popen, TimeoutExpired
from typing import Any, TextIO

from torquewright.suite.driver import NoAnswer, Subject

_PATIENCE = 10.0  # seconds to end after its input has ended


class Program:
    """A running program, callable as a subject. Use it in a ``with`` statement, which ends it."""

    def __init__(self, command: str | list[str]) -> None:
        words = shlex.split(command) if isinstance(command, str) else command
        self._process = Popen(words, stdin=PIPE, stdout=PIPE, text=True, encoding="utf-8")
        self._asked = 0

    def __enter__(self) -> Program:
        return self

    def __exit__(self, *_: object) -> None:
        assert self._process.stdin is not None
        with suppress(OSError):  # it may have ended already
            self._process.stdin.close()
        try:
            self._process.wait(_PATIENCE)
        except TimeoutExpired:
            self._process.kill()
            self._process.wait()
        if self._process.stdout is not None:
            self._process.stdout.close()

    def __call__(self, form: str, text: str) -> list[dict[str, Any]]:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._asked += 1
        case = str(self._asked)
        try:
            self._process.stdin.write(dumps({"case": case, "form": form, "text": text}) + "\n")
            self._process.stdin.flush()
            line = self._process.stdout.readline()
        except OSError as fault:
            raise NoAnswer(f"the program has gone: {fault}") from None
        if not line:
            raise NoAnswer("the program ended without an answer")
        try:
            answer = loads(line)
        except JSONDecodeError:
            raise NoAnswer(f"the answer is no JSON: {line.strip()[:80]!r}") from None
        if not isinstance(answer, dict) or answer.get("case") != case:
            raise NoAnswer("the answer is to another case")
        if "error" in answer:
            raise NoAnswer(str(answer["error"]))
        findings = answer.get("findings")
        if not isinstance(findings, list) or not all(isinstance(finding, dict) for finding in findings):
            raise NoAnswer("the answer has no list of findings")
        return findings


def serve(subject: Subject, asked: Iterable[str], answers: TextIO) -> None:
    """The other end: answer each line of ``asked`` with the findings of ``subject``."""
    for line in asked:
        if not line.strip():
            continue
        case: Any = None
        try:
            request = loads(line)
            case = request["case"]
            answer = {"case": case, "findings": list(subject(request["form"], request["text"]))}
        except (JSONDecodeError, KeyError, TypeError):
            answer = {"case": case, "error": "a request is an object with case, form and text"}
        except NoAnswer as why:
            answer = {"case": case, "error": str(why)}
        answers.write(dumps(answer, ensure_ascii=False) + "\n")
        answers.flush()
