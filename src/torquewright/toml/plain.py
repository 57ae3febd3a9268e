"""Records as plain values and back, loss-free, for those who keep them in JSON or build them in Python.

Keys are the attributes of the records with dashes, figures are SI floats, what is not stated is left out. Unlike the
TOML files this form holds every figure as read, so it needs no reading of texts. cattrs does the work, made strict:
by itself it takes ``"12.5"`` for 12.5 and ``"false"`` for true.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from math import isfinite
from typing import TYPE_CHECKING, Any, Literal, TypeVar, get_args, get_origin

from attrs import fields, has

from torquewright.base.document import Place
from torquewright.base.trouble import Fault, InputTrouble
from torquewright.base.units import UNITS
from torquewright.notation.near import nearest, quoted
from torquewright.records.parts import Amount
from torquewright.records.steps import VERBS, Action
from torquewright.records.tightening import Torque
from torquewright.toml.slips import Slip, Wrong, kind_of, wrong

if TYPE_CHECKING:
    from cattrs import Converter

R = TypeVar("R")


def to_plain(record: object) -> Any:
    """``record`` as dicts, lists, texts, numbers and booleans, ready for ``json.dumps``."""
    return _converter().unstructure(record)


def from_plain(kind: type[R], plain: object, name: str = "-") -> R:
    """The record of class ``kind`` that ``plain`` describes.

    Exact types only (a whole number may stand for a float, as JSON has one kind of number), no unknown keys, no NaN
    or infinity. Raises InputTrouble with every fault; the message begins with the path of the value, and ``name``
    stands for the file.
    """
    try:
        return _converter().structure(plain, kind)
    except Exception as trouble:  # cattrs raises groups of whatever the hooks raised
        faults: list[Fault] = []
        _collect(trouble, "", faults, Place(name, 1, 1, 1, 1))
        if not faults:
            raise
        raise InputTrouble(faults) from None


def _collect(trouble: BaseException, path: str, faults: list[Fault], place: Place) -> None:
    from cattrs.errors import BaseValidationError, ForbiddenExtraKeysError, IterableValidationNote

    if isinstance(trouble, BaseValidationError):
        for inner in trouble.exceptions:
            here = path
            for note in getattr(inner, "__notes__", ()):
                if isinstance(note, IterableValidationNote):
                    here = f"{path}[{note.index}]"
                elif hasattr(note, "name"):
                    key = note.name.replace("_", "-")
                    here = f"{path}.{key}" if path else key
            _collect(inner, here, faults, place)
        return
    at = f"{path}: " if path else ""
    if isinstance(trouble, Wrong):
        faults += [Fault(place, f"{at}{slip.message}", slip.found, slip.wanted) for slip in trouble.slips]
    elif isinstance(trouble, ForbiddenExtraKeysError):
        known = [held.name.replace("_", "-") for held in fields(trouble.cl) if held.init]
        for key in sorted(trouble.extra_fields, key=str):
            near = nearest(str(key), known)
            wanted = f"did you mean {' or '.join(near)}?" if near else f"one of the keys {', '.join(known)}"
            faults.append(Fault(place, f"{at}unknown key {key}", str(key), wanted))
    elif isinstance(trouble, KeyError):
        faults.append(Fault(place, f"{at}nothing where a value belongs", "", f"the key {trouble.args[0]}"))
    else:
        faults.append(Fault(place, f"{at}no value of this kind", "", str(trouble)))


def _text(value: object, _: Any) -> str:
    if type(value) is not str:
        raise wrong(value, f"{kind_of(value)} where a text belongs", "a text")
    return value


def _whole(value: object, _: Any) -> int:
    if type(value) is not int:
        raise wrong(value, f"{kind_of(value)} where a whole number belongs", "a whole number")
    return value


def _number(value: object, _: Any) -> float:
    if type(value) is int and abs(value) < 2**53:
        return float(value)
    if type(value) is not float:
        raise wrong(value, f"{kind_of(value)} where a number belongs", "a number")
    if not isfinite(value):
        raise wrong(value, "no figure", "a finite number")
    return value


def _flag(value: object, _: Any) -> bool:
    if type(value) is not bool:
        raise wrong(value, f"{kind_of(value)} where true or false belongs", "true or false")
    return value


def _is(kind: Any, origin: object) -> bool:
    return get_origin(kind) is origin


def _literal(value: object, kind: Any) -> Any:
    words = get_args(kind)
    if type(value) is str and value in words:
        return value
    raise wrong(value, "not a word known here", quoted(word for word in words if word))


def _in_closed_lists(record: object) -> None:
    """Refuse a verb or a unit no rule could know: the two closed lists that the types do not spell out."""
    if isinstance(record, Action) and record.verb not in VERBS:
        hint = quoted(nearest(record.verb, sorted(VERBS))) or "a verb of the closed list"
        raise Wrong([Slip((), f"no verb is called {record.verb}", record.verb, hint)])
    if isinstance(record, Amount | Torque) and record.unit not in UNITS and (record.unit or isinstance(record, Amount)):
        hint = quoted(nearest(record.unit, UNITS)) or "a unit of the closed list"
        raise Wrong([Slip((), f"no unit is called {record.unit}", record.unit, hint)])


@lru_cache(maxsize=1)
def _converter() -> Converter:
    from cattrs import Converter
    from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn, override

    converter = Converter(omit_if_default=True, forbid_extra_keys=True)

    def spelled_out(held: type) -> dict[str, Any]:
        return {at.name: override(rename=at.name.replace("_", "-")) for at in fields(held) if at.init}

    def together(held: type) -> Callable[[object, Any], Any]:
        made: Any = make_dict_structure_fn(held, converter, _cattrs_forbid_extra_keys=True, **spelled_out(held))

        def structured(value: object, kind: Any) -> Any:
            if type(value) is not dict:
                raise wrong(value, f"{kind_of(value)} where a table belongs", "a table")
            record = made(value, kind)
            _in_closed_lists(record)
            return record

        return structured

    converter.register_structure_hook_factory(has, together)
    converter.register_unstructure_hook_factory(
        has,
        lambda held: make_dict_unstructure_fn(held, converter, _cattrs_omit_if_default=True, **spelled_out(held)),
    )
    converter.register_structure_hook_func(lambda kind: _is(kind, Literal), _literal)
    as_tuple = converter.get_structure_hook(tuple[str, ...], cache_result=False)

    def listed(value: object, kind: Any) -> Any:
        if type(value) not in (list, tuple):  # a text is a sequence too, and would come apart into its letters
            raise wrong(value, f"{kind_of(value)} where a list belongs", "a list")
        return as_tuple(value, kind)

    converter.register_structure_hook_func(lambda kind: _is(kind, tuple), listed)
    for kind, exact in ((str, _text), (int, _whole), (float, _number), (bool, _flag)):
        converter.register_structure_hook(kind, exact)
    return converter


__all__ = ["from_plain", "to_plain"]
