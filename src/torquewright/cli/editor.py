"""Serve an editor: findings as you type, what is known of a part, names to choose from, safe edits.

An editor with a language client starts this command and talks to it over
standard input and output, by the Language Server Protocol. It looks at Markdown
drafts and at TOML procedures, catalogues, tools and kits.

  torquewright editor
  torquewright editor --catalogue heron.toml     for drafts that name no catalogue

It needs an extra: pip install "torquewright[editor]"
"""

from __future__ import annotations

import os
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from typing import BinaryIO

from torquewright.cli import GO, WRONG_COMMAND


def configure(parser: ArgumentParser) -> None:
    parser.add_argument("--catalogue", metavar="FILE", help="records of the machine, in place of the file a text names")
    parser.add_argument("--tools", metavar="FILE", help="the tools at hand")
    parser.add_argument("--kit", metavar="FILE", help="the new parts laid out for the job")
    parser.add_argument("--stdio", action="store_true", help=SUPPRESS)  # many clients add it; there is no other way


def run(args: Namespace) -> int:
    try:
        import pygls  # noqa: F401  (only asked for here; the server imports what it needs of it)
    except ModuleNotFoundError:
        sys.stderr.write(
            "torquewright editor: the language server needs the package pygls, which is not installed\n"
            'try: pip install "torquewright[editor]"\n'
        )
        return WRONG_COMMAND
    if sys.stdin.isatty():
        sys.stderr.write(
            "torquewright editor: an editor starts this and talks to it over standard input; there is nothing to type\n"
        )
        return WRONG_COMMAND
    from torquewright.editor.desk import Records
    from torquewright.editor.server import serve

    records = Records(*(name and os.path.abspath(name) for name in (args.catalogue, args.tools, args.kit)))
    source, sink = sys.stdin.buffer, _own_output()
    serve(records, source, sink)
    return GO


def _own_output() -> BinaryIO:
    """Standard output for the protocol alone: whatever else writes to it, in Python or below, goes to the error
    stream from now on."""
    sink = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    sys.stdout = sys.stderr
    return sink
