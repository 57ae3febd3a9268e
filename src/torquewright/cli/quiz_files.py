"""A quiz delivered: printed, or written as files of a folder."""

from __future__ import annotations

import os
import sys
from argparse import Namespace

from torquewright.quiz import Item
from torquewright.records import Catalogue


def deliver(args: Namespace, title: str, forms: list[list[Item]], catalogue: Catalogue) -> int:
    """Print the one form, or write every form into the folder asked for. The exit status."""
    if not args.into:
        files = _files(args, title, forms[0], catalogue, args.seed)
        if len(files) == 2:
            wanted = [held for part, held in zip(("paper", "key"), files.values(), strict=True)
                      if args.part in (part, "both")]  # fmt: skip
        else:
            wanted = list(files.values())
        sys.stdout.write("\n---\n\n".join(held.decode() for held in wanted))
        return 0
    for number, items in enumerate(forms, 1):
        folder = args.into if len(forms) == 1 else os.path.join(args.into, f"form-{number}")
        status = _write(folder, _files(args, title, items, catalogue, args.seed))
        if status:
            return status
    return 0


def _files(args: Namespace, title: str, items: list[Item], catalogue: Catalogue, seed: int) -> dict[str, bytes]:
    """The files of one form, by name. Two of them are paper and key, in this order."""
    from torquewright.quiz import paper

    if args.format == "text":
        return {"paper.md": paper.paper(title, items, catalogue).encode(), "key.md": paper.key(title, items).encode()}
    if args.format == "html":
        from torquewright.quiz.page import key_page, paper_page

        return {
            "paper.html": paper_page(title, items, catalogue).encode(),
            "key.html": key_page(title, items).encode(),
        }
    if args.format == "json":
        from json import dumps

        return {"quiz.json": (dumps(paper.plain(title, items, seed), ensure_ascii=False, indent=2) + "\n").encode()}
    if args.format == "csv":
        return {"quiz.csv": paper.table(items).encode()}
    from torquewright.quiz.qti import package

    edition = "3.0" if args.format == "qti3" else "2.2"
    return {f"quiz-{args.format}.zip": package(title, items, catalogue, edition)}  # type: ignore[arg-type]


def _write(folder: str, files: dict[str, bytes]) -> int:
    try:
        os.makedirs(folder, exist_ok=True)
        for name, content in files.items():
            # Written aside and moved into place: nobody ever finds half a paper.
            aside = os.path.join(folder, name + ".part")
            with open(aside, "wb") as file:
                file.write(content)
            os.replace(aside, os.path.join(folder, name))
    except OSError as fault:
        sys.stderr.write(f"torquewright quiz: {folder}: cannot be written: {fault.strerror}\n")
        return 3
    for name in files:
        print(os.path.join(folder, name))
    return 0
