"""Schemas other people publish, from the fetched packages in the folder TORQUEWRIGHT_OUTSIDE names.

SARIF 2.1.0: ``lib/schemas/sarif-2.1.0-rtm.5.json`` of the npm package @microsoft/jest-sarif 1.0.0-beta.0 (MIT).
JUnit: ``testing/example_scripts/junit-10.xsd`` (Gregory Boissinot, MIT) of the source distribution of pytest 9.2.0.
"""

from __future__ import annotations

import os
import tarfile
from pathlib import Path

import pytest

SARIF = ("microsoft-jest-sarif-1.0.0-beta.0.tgz", "package/lib/schemas/sarif-2.1.0-rtm.5.json",
         "npm pack @microsoft/jest-sarif@1.0.0-beta.0")  # fmt: skip
JUNIT = ("pytest-9.2.0.tar.gz", "pytest-9.2.0/testing/example_scripts/junit-10.xsd",
         "pip download --no-deps --no-binary pytest pytest==9.2.0")  # fmt: skip


def outside(source: tuple[str, str, str]) -> bytes:
    """The file inside the fetched package; skips the test where it was not fetched."""
    package, member, how = source
    folder = os.environ.get("TORQUEWRIGHT_OUTSIDE")
    if not folder or not (Path(folder) / package).is_file():
        pytest.skip(f"{package} is not in the folder TORQUEWRIGHT_OUTSIDE names; fetch it there: {how}")
    with tarfile.open(Path(folder) / package) as held:
        file = held.extractfile(member)
        assert file is not None
        return file.read()
