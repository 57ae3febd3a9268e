"""How the house is built: imports run downward only, every module has one stated reason and a sensible size."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parent.parent
SOURCE = CHECKOUT / "src" / "torquewright"
MODULES = sorted(SOURCE.rglob("*.py"))
OTHERS = sorted([*(CHECKOUT / "tests").rglob("*.py"), *(CHECKOUT / "tools").rglob("*.py")])


def _shown(path: Path) -> str:
    return str(path.relative_to(CHECKOUT))


def _named(path: Path) -> str:
    module = path.relative_to(SOURCE.parent).with_suffix("")
    return ".".join(module.parts).removesuffix(".__init__")


def test_import_contracts_hold() -> None:
    command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command as run; run()", "--no-cache"]
    done = subprocess.run(command, cwd=CHECKOUT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("path", [*MODULES, *OTHERS], ids=_shown)
def test_module_says_its_reason(path: Path) -> None:
    if path.name == "__init__.py" and path.parent == CHECKOUT / "tests":
        return
    reason = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
    assert reason, f"{_shown(path)} has no docstring"
    assert len(reason.splitlines()[0]) > 15, f"{_shown(path)} does not say what it is for in its first line"


@pytest.mark.parametrize("path", MODULES, ids=_shown)
def test_module_is_a_room_not_a_hall(path: Path) -> None:
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= 400, f"{_shown(path)} has {lines} lines; find the second reason in it and give that its own module"
    if path.name not in ("__init__.py", "__main__.py"):
        assert lines >= 20, f"{_shown(path)} has {lines} lines; it belongs into the room of its reader"


def test_the_top_of_the_checkout_is_tidy() -> None:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=CHECKOUT, capture_output=True, text=True)
    if listed.returncode != 0:
        pytest.skip("not a git checkout")
    top = {name.split("/")[0] for name in listed.stdout.split("\0") if name and not name.startswith(".")}
    assert top == {"DEVELOPERS.md", "LICENSE", "README.md", "pyproject.toml", "specs", "src", "tests", "tools"}


@pytest.mark.parametrize("path", [*MODULES, *OTHERS], ids=_shown)
def test_nothing_is_left_for_later(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for word in ("TO" + "DO", "FIX" + "ME", "XX" + "X", "NotImplemented" + "Error"):
        assert word not in text, f"{_shown(path)} still says {word}"


# What the middle of the house may not touch: it turns records into findings and nothing else, so that the same input
# gives the same findings everywhere. ``Any`` of these names being imported or called is a leak.
_IMPURE_MODULES = {"io", "os", "pathlib", "random", "secrets", "socket", "subprocess", "sys", "tempfile", "time"}
_IMPURE_CALLS = {"open", "print", "input", "exec", "eval"}


@pytest.mark.parametrize(
    "path", [path for path in MODULES if path.parent.name in ("records", "bench", "rules", "joint")], ids=_shown
)
def test_the_middle_is_pure(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name.split(".")[0] for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            names = [(node.module or "").split(".")[0]]
        leaks = _IMPURE_MODULES.intersection(names)
        assert not leaks, f"{_shown(path)}:{node.lineno} imports {leaks}"
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in _IMPURE_CALLS, f"{_shown(path)}:{node.lineno} calls {node.func.id}"


# Modules that cost several bare interpreter starts to import; the way to a checked TOML file does without them.
_HEAVY = (
    "asyncio", "cattrs", "dataclasses", "importlib.metadata", "importlib.resources", "jsonschema",
    "logging", "lsprotocol", "markdown_it", "numpy", "pathlib", "pint", "pygls", "tempfile", "tomli_w",
    "unittest",
)  # fmt: skip


def _imported_by(*words: str) -> set[str]:
    program = (
        "import sys, runpy; sys.argv = ['torquewright', *sys.argv[1:]]\n"
        "try: runpy.run_module('torquewright', run_name='__main__')\n"
        "except SystemExit: pass\n"
        "print('\\n'.join(sys.modules), file=sys.stderr)"
    )
    bare = subprocess.run([sys.executable, "-c", "import sys, runpy; print('\\n'.join(sys.modules))"],
                          capture_output=True, text=True, check=True)  # fmt: skip
    done = subprocess.run([sys.executable, "-c", program, *words], cwd=CHECKOUT, capture_output=True, text=True)
    return set(done.stderr.splitlines()) - set(bare.stdout.splitlines())


def test_checking_a_toml_file_loads_nothing_heavy() -> None:
    loaded = _imported_by("check", "specs/examples/workboat-gearcase/sound.toml")
    assert "torquewright.verdict" in loaded
    assert loaded.isdisjoint(_HEAVY), sorted(loaded.intersection(_HEAVY))


def test_help_loads_no_engine() -> None:
    loaded = _imported_by("--help")
    ours = {name for name in loaded if name.startswith("torquewright")}
    assert ours <= {"torquewright", "torquewright.cli"}, sorted(ours)
    assert loaded.isdisjoint({*_HEAVY, "attr", "attrs", "re", "json", "tomllib"})


def test_every_contract_names_rooms_that_can_exist() -> None:
    import tomllib

    settings = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))
    layers = settings["tool"]["importlinter"]["contracts"][0]["layers"]
    rooms = {name.strip(" ()") for layer in layers for name in layer.split("|")}
    built = {_named(path) for path in MODULES if path.parent == SOURCE or path.parent.parent == SOURCE}
    outside = {"torquewright", "torquewright.__main__"}
    top = {name for name in built if name.count(".") == 1} - outside
    assert top <= rooms, f"not in any layer: {sorted(top - rooms)}"
