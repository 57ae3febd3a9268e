"""What all records share: a short way to show themselves."""

from __future__ import annotations

from typing import Any


class Record:
    """Shows only the fields that are not at their default, so that a record of thirty fields reads in a line."""

    __slots__ = ()
    __attrs_attrs__: Any

    def __repr__(self) -> str:
        told = []
        for field in type(self).__attrs_attrs__:
            if field.repr and field.init:
                value = getattr(self, field.name)
                if value != field.default:
                    told.append(f"{field.name}={value!r}")
        return f"{type(self).__name__}({', '.join(told)})"
