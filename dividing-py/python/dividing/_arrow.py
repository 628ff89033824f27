"""Columns through the Arrow C data interface, so that any data-frame library
takes them without this package needing one.

The structures and their rules are those of the Arrow specification, *The Arrow C
data interface* and *The Arrow PyCapsule interface*. Columns of numbers are handed
over where they lie; bools are packed to bits, as Arrow wants them.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Mapping
from itertools import count
from typing import Any

import numpy as np
from numpy.typing import NDArray

_FORMATS = {
    "bool": b"b",
    "int8": b"c",
    "uint8": b"C",
    "int16": b"s",
    "uint16": b"S",
    "int32": b"i",
    "uint32": b"I",
    "int64": b"l",
    "uint64": b"L",
    "float64": b"g",
}


class _Schema(ctypes.Structure):
    pass


class _Array(ctypes.Structure):
    pass


_ReleaseSchema = ctypes.CFUNCTYPE(None, ctypes.POINTER(_Schema))
_ReleaseArray = ctypes.CFUNCTYPE(None, ctypes.POINTER(_Array))

_Schema._fields_ = [
    ("format", ctypes.c_char_p),
    ("name", ctypes.c_char_p),
    ("metadata", ctypes.c_char_p),
    ("flags", ctypes.c_int64),
    ("n_children", ctypes.c_int64),
    ("children", ctypes.POINTER(ctypes.POINTER(_Schema))),
    ("dictionary", ctypes.c_void_p),
    ("release", _ReleaseSchema),
    ("private_data", ctypes.c_void_p),
]
_Array._fields_ = [
    ("length", ctypes.c_int64),
    ("null_count", ctypes.c_int64),
    ("offset", ctypes.c_int64),
    ("n_buffers", ctypes.c_int64),
    ("n_children", ctypes.c_int64),
    ("buffers", ctypes.POINTER(ctypes.c_void_p)),
    ("children", ctypes.POINTER(ctypes.POINTER(_Array))),
    ("dictionary", ctypes.c_void_p),
    ("release", _ReleaseArray),
    ("private_data", ctypes.c_void_p),
]

_kept: dict[int, Any] = {}
"""What a structure points at, by its private number, until it is released."""
_numbers = count(1)


def _release(pointer: Any) -> None:
    """Releases a structure and its children that were not taken out of it."""
    it = pointer.contents
    for index in range(it.n_children):
        child = it.children[index]
        if child.contents.release:
            child.contents.release(child)
    _kept.pop(it.private_data, None)
    it.release = type(it.release)()


_release_schema = _ReleaseSchema(_release)
_release_array = _ReleaseArray(_release)


def _keep(*things: object) -> int:
    number = next(_numbers)
    _kept[number] = things
    return number


def _schema(form: bytes, name: str, children: list[_Schema]) -> _Schema:
    pointers = (ctypes.POINTER(_Schema) * len(children))(*map(ctypes.pointer, children))
    text = name.encode()
    made = _Schema(format=form, name=text, n_children=len(children), release=_release_schema)
    made.children = pointers
    made.private_data = _keep(form, text, children, pointers)
    return made


def _array(length: int, buffers: list[Any], children: list[_Array]) -> _Array:
    pointers = (ctypes.POINTER(_Array) * len(children))(*map(ctypes.pointer, children))
    # No buffer of missing values comes first: nothing is missing.
    addresses = [None, *(buffer.ctypes.data for buffer in buffers)]
    places = (ctypes.c_void_p * len(addresses))(*addresses)
    made = _Array(
        length=length,
        n_buffers=len(addresses),
        n_children=len(children),
        release=_release_array,
    )
    made.buffers = places
    made.children = pointers
    made.private_data = _keep(buffers, places, children, pointers)
    return made


def _buffer(column: NDArray[Any]) -> NDArray[Any]:
    if column.dtype == np.bool_:
        return np.packbits(column, bitorder="little")
    return np.ascontiguousarray(column)


_new = ctypes.pythonapi.PyCapsule_New
_new.restype = ctypes.py_object
_new.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_void_p]
_pointer_of = ctypes.PYFUNCTYPE(ctypes.c_void_p, ctypes.c_void_p, ctypes.c_char_p)(
    ("PyCapsule_GetPointer", ctypes.pythonapi)
)
_owned: dict[int, Any] = {}
"""The structure of each living capsule, by its address."""


def _ending(kind: Any, name: bytes) -> Callable[[int], None]:
    def end(capsule: int) -> None:
        address = _pointer_of(capsule, name)
        pointer = ctypes.cast(address, ctypes.POINTER(kind))
        # A consumer that moved the structure out has cleared this.
        if pointer.contents.release:
            pointer.contents.release(pointer)
        _owned.pop(address, None)

    return end


_Ending = ctypes.PYFUNCTYPE(None, ctypes.c_void_p)
_SCHEMA, _ARRAY = b"arrow_schema", b"arrow_array"
_end_schema = _Ending(_ending(_Schema, _SCHEMA))
_end_array = _Ending(_ending(_Array, _ARRAY))


def _capsule(structure: Any, name: bytes, end: Any) -> object:
    address = ctypes.addressof(structure)
    _owned[address] = structure
    made: object = _new(address, name, ctypes.cast(end, ctypes.c_void_p))
    return made


def schema_capsule(columns: Mapping[str, NDArray[Any]]) -> object:
    """The names and types of columns, as a row of a struct."""
    fields = [
        _schema(_FORMATS[column.dtype.name], name, [])
        for name, column in columns.items()
    ]
    return _capsule(_schema(b"+s", "", fields), _SCHEMA, _end_schema)


def array_capsule(columns: Mapping[str, NDArray[Any]]) -> object:
    """The columns, as the children of a struct."""
    length = max((len(column) for column in columns.values()), default=0)
    children = [
        _array(len(column), [_buffer(column)], []) for column in columns.values()
    ]
    return _capsule(_array(length, [], children), _ARRAY, _end_array)
