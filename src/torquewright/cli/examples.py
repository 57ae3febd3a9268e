"""The bundled examples: invented machines, each with records, tools, a kit, a sound procedure and faulty ones,
every procedure once as TOML and once as a draft in sentences."""

from __future__ import annotations

import os

from torquewright.book.locate import specs_folder

_RECORDS = frozenset({"catalogue.toml", "tools.toml", "kit.toml", "expected.toml"})


def examples_folder() -> str:
    return os.path.join(specs_folder(), "examples")


def example_names() -> list[str]:
    """The machines there are, in alphabetical order."""
    folder = examples_folder()
    return sorted(name for name in os.listdir(folder) if os.path.isdir(os.path.join(folder, name)))


def procedures_of(machine: str) -> list[str]:
    """The procedures of one machine, the sound ones first, and of each the TOML form ahead of the draft."""
    folder = os.path.join(examples_folder(), machine)
    files = [name for name in os.listdir(folder) if name.endswith((".toml", ".md")) and name not in _RECORDS]
    files.sort(key=lambda name: (not name.startswith("sound"), os.path.splitext(name)[0], name.endswith(".md")))
    return [_short(os.path.join(folder, name)) for name in files]


def _short(path: str) -> str:
    """The path as seen from here, when it lies below."""
    here = os.getcwd() + os.sep
    return path.removeprefix(here)


def chosen(name: str) -> list[str]:
    """The files an example's name stands for; none where there is no such example.

    ``""`` is the first machine; ``"workboat"`` every procedure of the machine whose name begins so, as TOML;
    ``"workboat/faulty-1"`` one of them, ``"workboat/faulty-1.md"`` the same as a draft, ``"workboat/*.md"`` every
    draft.
    """
    machine, _, procedure = name.strip("/").partition("/")
    machines = [known for known in example_names() if known.startswith(machine)]
    if not machines or (machine and len(machines) > 1 and machine not in machines):
        return []
    files = procedures_of(machine if machine in machines else machines[0])
    if procedure == "*.md":
        return [path for path in files if path.endswith(".md")]
    if procedure.endswith((".md", ".toml")):
        return [path for path in files if os.path.basename(path) == procedure]
    toml = [path for path in files if path.endswith(".toml")]
    return [path for path in toml if os.path.basename(path) == procedure + ".toml"] if procedure else toml


def listing() -> str:
    """The machines and their procedures, for the reader who wants to choose."""
    lines = ["Bundled examples, all invented (torquewright check --example NAME, NAME.md for the draft):"]
    for machine in example_names():
        stems = dict.fromkeys(os.path.splitext(os.path.basename(path))[0] for path in procedures_of(machine))
        lines.append(f"  {machine}: {', '.join(stems)}")
    return "\n".join(lines) + "\n"
