"""Texts from files: bytes to a document, and which files a file may name.

A file named on the command line may be anywhere. A file named inside another must lie in that one's folder or
below it, so that somebody else's procedure cannot make the reader open what it should not.
"""

from __future__ import annotations

import os

from torquewright.base.document import Document, Place
from torquewright.base.trouble import Fault, InputTrouble

LARGEST = 2_000_000
"""Bytes of one file. A procedure of two thousand steps has fewer."""


def decode(data: bytes, name: str) -> Document:
    """The document of UTF-8 bytes. InputTrouble for more than :data:`LARGEST` bytes or for another encoding."""
    if len(data) > LARGEST:
        raise _trouble(name, "a file too large to be a procedure", f"more than {LARGEST // 1_000_000} MB",
                       f"a file of at most {LARGEST // 1_000_000} MB")  # fmt: skip
    try:
        return Document(name, data.decode("utf-8"))
    except UnicodeDecodeError as fault:
        if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
            raise _trouble(name, "text in UTF-16", "a UTF-16 byte order mark", "the same file saved as UTF-8") from None
        before = Document(name, data[: fault.start].decode("utf-8"))
        line, column = before.position(len(before.text))
        found = f"byte 0x{data[fault.start]:02x}"
        place = Place(name, line, column, line, column + 1)
        raise InputTrouble(
            [Fault(place, "bytes that are not UTF-8 text", found, "the same file saved as UTF-8")], {name: before}
        ) from None


def open_document(path: str, name: str | None = None) -> Document:
    """The document in the file ``path``, called ``name`` (the path itself by default)."""
    name = name or path
    try:
        with open(path, "rb") as file:
            return decode(file.read(LARGEST + 1), name)
    except FileNotFoundError:
        raise _trouble(name, "no such file", name, "the name of a file that exists") from None
    except IsADirectoryError:
        raise _trouble(name, "a folder where a file belongs", name, "the name of a file in it") from None
    except PermissionError:
        raise _trouble(name, "a file nobody lets me read", name, "a file with permission to read") from None
    except OSError as fault:
        reason = (fault.strerror or "the system refuses it").lower()
        raise _trouble(name, f"the file cannot be read: {reason}", name, "a file that can be read") from None
    except ValueError:
        raise _trouble(name, "no file can have this name", ascii(name)[1:-1], "the name of a file") from None


def inside(folder: str, name: str) -> tuple[str, str]:
    """The path of the file ``name`` inside ``folder``, and "" or why it may not be opened."""
    if "\0" in name or "\n" in name:
        return "", "no file can have this name"
    if "\\" in name:
        return "", "a backslash in the name of a file; folders are parted by /"
    if name.startswith("/") or name[1:2] == ":":
        return "", "a path from the top of the disk"
    if ".." in name.split("/") or name.startswith("~"):
        return "", "a path that leaves the folder of this file"
    path = os.path.join(folder, name)
    try:
        real = os.path.realpath(path)
        root = os.path.realpath(folder or ".")
    except (OSError, ValueError):
        return "", "no file can have this name"
    if not real.startswith(root if root.endswith(os.sep) else root + os.sep):
        return "", "a link that leaves the folder of this file"
    if os.path.isdir(real):
        return "", "a folder where a file belongs"
    if not os.path.exists(real):
        return "", "no such file"
    if not os.path.isfile(real):
        return "", "not an ordinary file"
    return path, ""


def _trouble(name: str, message: str, found: str, wanted: str) -> InputTrouble:
    return InputTrouble([Fault(Place(name, 1, 1, 1, 1), message, found, wanted)])
