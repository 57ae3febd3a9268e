"""A draft laid out: what stands ahead of it, then its blocks, from Markdown or plain text."""

from __future__ import annotations

import re

from torquewright.base.document import Document
from torquewright.pages.blocks import Blocks, Span
from torquewright.pages.markdown import Markdown
from torquewright.pages.numbering import tell_apart
from torquewright.pages.plaintext import read_plain

_FRONT = re.compile(r"\s*\+\+\+[ \t]*\n(.*?)(?:^\+\+\+[ \t]*$|\Z)", re.DOTALL | re.MULTILINE)
_YAML = re.compile(r"\s*---[ \t]*\n(.*?)^---[ \t]*$", re.DOTALL | re.MULTILINE)


def blocks_of(document: Document, *, markdown: bool = True) -> Blocks:
    """The blocks of a draft. Never raises: what is no block of a known kind is a note."""
    blocks = Blocks(document)
    text = document.text
    match = _FRONT.match(text)
    body = 0
    if match is not None:
        blocks.front = Span(match.start(1), match.end(1))
        body = match.end()
    else:
        other = _YAML.match(text)
        if other is not None:
            body = other.end()
    if markdown:
        Markdown(blocks, body).read()
    else:
        read_plain(blocks, body)
    tell_apart(blocks)
    return blocks
