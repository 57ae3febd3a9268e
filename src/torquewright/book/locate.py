"""Where the book lies: the ``specs`` folder, packed into the wheel or standing in the checkout.

The one place that knows the difference. No importlib.resources: it costs two bare interpreter starts.
"""

from __future__ import annotations

from os.path import dirname, isdir, join


def specs_folder() -> str:
    """The folder that holds ``rules/``, ``tables/``, ``suite/`` and ``examples/``.

    A wheel carries it beside the code as ``_specs``; an editable checkout has it at its top.
    """
    package = dirname(dirname(__file__))
    packed = join(package, "_specs")
    if isdir(packed):
        return packed
    return join(dirname(dirname(package)), "specs")
