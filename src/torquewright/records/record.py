"""What all records share: how they show themselves, and when two of them are equal.

attrs would write these for each class and compile them at every start; one version for all of them costs nothing
then, and a record is shown or compared far less often than the program is started.
"""

from __future__ import annotations

from typing import Any


class Record:
    """The base of every record class, which is declared with ``@frozen(repr=False, eq=False)``.

    Shows only the fields that are not at their default, so that a record of thirty fields reads in a line. Two
    records are equal when they are of one class and all fields that count (``eq`` of the field) are equal.
    """

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

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return self is other or all(
            getattr(self, field.name) == getattr(other, field.name) for field in self.__attrs_attrs__ if field.eq
        )

    def __hash__(self) -> int:
        return hash((type(self), *(getattr(self, field.name) for field in self.__attrs_attrs__ if field.eq)))
