"""The command line: picks the verb, loads only that verb, and turns troubles into an exit status.

Help, version and usage errors load nothing but this module and argparse.
"""

from __future__ import annotations

import sys

from torquewright import __version__

GO, NO_GO, WRONG_COMMAND, NOT_READ, ASK_FIRST, OUR_FAULT = 0, 1, 2, 3, 4, 70
_INTERRUPTED, _CUT_OFF = 130, 141  # what a shell makes of SIGINT and SIGPIPE; neither is a verdict

VERBS = {
    "check": "judge procedures: go, ask first or no-go",
    "read": "show what was understood of a draft, as TOML",
    "why": "tell a rule: what it asks, why, with a faulty case and its sound twin",
    "rules": "list the rules by family",
    "convert": "turn a tightening text or a quantity into another unit",
    "joint": "work out preload, proof load, thread strip, tool settings",
    "sheet": "the job sheet: what to lay out, steps to tick, values to write down",
    "quiz": "make questions by planting faults in a sound procedure",
    "editor": "serve an editor: findings as you type (language server)",
    "suite": "list or run the conformance suite",
}
"""Each verb is a module of this package with ``configure(parser)`` and ``run(args) -> int``."""

_OPENING = """\
usage: torquewright VERB ...
       torquewright --help | --version

Checks a mechanical service procedure before anyone picks up a wrench: plays it
through as written and says what breaks, leaks, comes loose or hurts somebody.

verbs:
"""
_CLOSING = """
torquewright VERB --help tells the rest, with examples. To begin:
  torquewright check --example

exit status: 0 go · 1 no-go · 2 wrong command line · 3 input cannot be read ·
             4 ask first · 70 a fault of Torquewright itself
"""


def main(argv: list[str] | None = None) -> int:
    """Run one command line (``sys.argv`` when None) and return its exit status."""
    words = sys.argv[1:] if argv is None else argv
    _make_output_safe()
    try:
        status = _dispatch(words)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read us has gone; the interpreter's own flush at exit must not complain about it again.
        _silence_output()
        return _CUT_OFF
    except KeyboardInterrupt:
        return _INTERRUPTED
    return status


def command() -> None:
    """The installed command: runs one command line and leaves the process with its exit status. Never returns."""
    import gc
    import os

    # What a run builds up lives until its end, so looking for garbage every 700 objects is work for nothing.
    gc.set_threshold(100_000)
    status = main()
    # Taking the interpreter down in order would free, piece by piece, what the system takes back at once.
    # A tenth of a whole check is saved; all that must be kept has been written by then.
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except (OSError, ValueError):
        pass  # nobody reads it any more
    os._exit(status)


def _dispatch(words: list[str]) -> int:
    verb = words[0] if words else ""
    if verb in ("-h", "--help", "help") and len(words) == 1:
        sys.stdout.write(help_text())
        return GO
    if verb in ("-V", "--version"):
        print(f"torquewright {__version__}")
        return GO
    if not verb:
        sys.stderr.write(help_text())
        return WRONG_COMMAND
    if verb not in VERBS:
        return _unknown(verb)
    return _run(verb, words[1:])


def _run(verb: str, words: list[str]) -> int:
    from argparse import ArgumentParser, RawDescriptionHelpFormatter

    from torquewright.report.terminal import look_of

    def formatter(prog: str) -> RawDescriptionHelpFormatter:
        # told the width, argparse need not load shutil to ask for it, for every single option
        return RawDescriptionHelpFormatter(prog, width=look_of(sys.stdout).width)

    # __import__ with a fromlist is what an import statement does; importlib is not needed for it
    module = __import__(f"torquewright.cli.{verb}", fromlist=["run"])
    parser = ArgumentParser(
        prog=f"torquewright {verb}",
        description=module.__doc__,
        formatter_class=formatter,
        allow_abbrev=False,
    )
    module.configure(parser)
    # options may stand between file names, except for verbs with verbs of their own
    parse = parser.parse_args if parser._subparsers else parser.parse_intermixed_args
    try:
        args = parse(words)
    except SystemExit as leaving:  # argparse leaves by itself after --help and after a usage error
        return leaving.code if isinstance(leaving.code, int) else WRONG_COMMAND
    try:
        return int(module.run(args))
    except (BrokenPipeError, KeyboardInterrupt):
        raise
    except Exception as fault:
        return _own_fault(verb, fault)


def help_text() -> str:
    """The help of the command as a whole."""
    return _OPENING + "".join(f"  {verb:9}{line}\n" for verb, line in VERBS.items()) + _CLOSING


def _unknown(verb: str) -> int:
    from difflib import get_close_matches

    near = get_close_matches(verb, VERBS, n=1)
    told = f"; did you mean {near[0]}?" if near else ""
    if not near and verb.endswith((".toml", ".md")):
        told = f"; to check a file: torquewright check {verb}"
    sys.stderr.write(f"torquewright: there is no verb {verb!r}{told}\ntry: torquewright --help\n")
    return WRONG_COMMAND


def _own_fault(verb: str, fault: Exception) -> int:
    from os import environ

    if environ.get("TORQUEWRIGHT_TRACEBACK"):
        from traceback import print_exception

        print_exception(fault)
    sys.stderr.write(
        f"torquewright {verb}: this is a fault of Torquewright, not of your document, and there is no verdict.\n"
        f"  {type(fault).__name__}: {fault}\n"
        "  Please report it with the document that brings it about; TORQUEWRIGHT_TRACEBACK=1 shows where it happens.\n"
    )
    return OUR_FAULT


def _make_output_safe() -> None:
    """Let a terminal that cannot show a sign show a question mark instead of stopping the report."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def _silence_output() -> None:
    import os
    from contextlib import suppress

    nowhere = os.open(os.devnull, os.O_WRONLY)
    with suppress(OSError, ValueError):  # standard output may be no real file but a test's own stream
        os.dup2(nowhere, sys.stdout.fileno())
