"""Whole tables as columns: one NumPy array a column, no object per row.

A section is a dict of names to arrays that cannot be changed, for that is what
data-frame libraries look for; it also offers itself to NumPy (``__array__``) and,
through the Arrow C data interface, to any library that speaks it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NoReturn

import numpy as np
from numpy.typing import NDArray

from . import _arrow
from ._enums import TableMethod
from ._errors import UnknownNameError
from ._html import grid

Arrays = Mapping[str, NDArray[Any]]


class Columns(dict[str, NDArray[Any]]):
    """A mapping of names to columns, arrays of one length: a dict that refuses
    changes with TypeError.

    ``pandas.DataFrame(columns)`` and ``polars.DataFrame(columns)`` make a data
    frame, ``numpy.asarray(columns)`` an array of records.

    >>> columns = plate.holes
    >>> list(columns)
    ['ring', 'number', 'angle_deg', 'x_mm', 'y_mm']
    >>> import numpy as np
    >>> np.asarray(columns)["number"][:3].tolist()
    [0, 1, 2]
    """

    __slots__ = ()

    def __init__(self, columns: Arrays) -> None:
        super().__init__(columns)

    @property
    def _length(self) -> int:
        return len(next(iter(self.values()), ()))

    def __getitem__(self, name: str) -> NDArray[Any]:
        try:
            return super().__getitem__(name)
        except (KeyError, TypeError):
            accepted = ", ".join(self)
            raise UnknownNameError(
                f"there is no column {name!a}; accepted: {accepted}", "name"
            ) from None

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Columns):
            return False if isinstance(other, dict) else NotImplemented
        return self.keys() == other.keys() and all(
            np.array_equal(self[name], other[name]) for name in self
        )

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = None

    def _refuse(self, *given: object, **named: object) -> NoReturn:
        """Refused: columns cannot be changed.

        >>> plate.holes.clear()
        Traceback (most recent call last):
        TypeError: Columns cannot be changed; dict(...) makes a copy
        """
        raise TypeError(f"{type(self).__name__} cannot be changed; dict(...) makes a copy")

    __setitem__ = __delitem__ = __ior__ = _refuse
    clear = pop = popitem = setdefault = update = _refuse

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (dict(self),)

    def __array__(self, dtype: Any = None, copy: bool | None = None) -> NDArray[Any]:
        if copy is False:
            raise ValueError("copy: the columns lie apart; accepted: None or True")
        layout = [(name, column.dtype) for name, column in self.items()]
        found = np.empty(self._length, dtype=layout)
        for name, column in self.items():
            found[name] = column
        return found if dtype is None else found.astype(dtype)

    def __arrow_c_schema__(self) -> object:
        return _arrow.schema_capsule(self)

    def __arrow_c_array__(
        self, requested_schema: object | None = None
    ) -> tuple[object, object]:
        return _arrow.schema_capsule(self), _arrow.array_capsule(self)

    def _title(self) -> str:
        return f"{self._length} rows"

    def __repr__(self) -> str:
        return f"<{type(self).__name__}: {self._title()}>"

    def _repr_html_(self) -> str:
        most = 30
        rows = [
            [f"{value:g}" if isinstance(value, float) else str(value) for value in row]
            for row in zip(*(it[:most].tolist() for it in self.values()), strict=True)
        ]
        if self._length > most:
            rows.append(["…"] * len(self))
        return grid(self._title(), list(self), rows)


class TableSection(Columns):
    """The table of one method of one piece of equipment: a mapping of names to
    columns, arrays of shape (rows,), row i for ``first + i`` divisions.

    ``divisions`` and ``exact`` are always there. Simple indexing has ``plate``
    (as listed, from 0), ``back``, ``circle`` (holes), ``turns``, ``holes``,
    ``residual_turns`` and ``closing_turns``; compound indexing ``whole_turns``,
    ``first_circle``, ``first_holes``, ``second_circle``, ``second_holes``;
    differential indexing also ``against`` (plate against the crank), ``idlers``,
    ``driver_1`` and ``driven_1`` to ``driven_3``, 0 where there is none; other
    equipment ``way`` and ``residual_turns``.

    ``pandas.DataFrame(section)`` and ``polars.DataFrame(section)`` make a data
    frame.

    >>> section = dividing.indexing_table(workshop, 2, 20)["head", "simple"]
    >>> section["divisions"][section["exact"]].tolist()[:5]
    [2, 3, 4, 5, 6]
    >>> import numpy as np
    >>> np.asarray(section)["turns"][:3].tolist()
    [20, 13, 10]
    """

    __slots__ = ("_equipment", "_method")

    def __init__(self, equipment: str, method: TableMethod, columns: Arrays) -> None:
        super().__init__(columns)
        self._equipment = equipment
        self._method = method

    @property
    def equipment(self) -> str:
        """The piece of equipment, as the shop calls it.

        >>> dividing.exact_table(workshop, 2, 20).sections[0].equipment
        'head'
        """
        return self._equipment

    @property
    def method(self) -> TableMethod:
        """The method.

        >>> dividing.exact_table(workshop, 2, 20).sections[0].method
        <TableMethod.SIMPLE: 'simple'>
        """
        return self._method

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, TableSection):
            return super().__eq__(other)
        same = (self._equipment, self._method) == (other._equipment, other._method)
        return same and super().__eq__(other)

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self._equipment, self._method, dict(self))

    def _title(self) -> str:
        return f"{self._equipment}, {self._method}: {self._length} rows"


class IndexingTable:
    """Settings for a range of divisions: a section for each method of each piece.

    >>> table = dividing.indexing_table(workshop, 2, 60)
    >>> table["square block", "held"]
    <TableSection: square block, held: 59 rows>
    >>> table.complete, len(table)
    (True, 3)
    """

    __slots__ = ("_complete", "_first", "_last", "_sections")

    def __init__(
        self, first: int, last: int, sections: tuple[TableSection, ...], complete: bool
    ) -> None:
        self._first = first
        self._last = last
        self._sections = tuple(sections)
        self._complete = complete

    @property
    def first(self) -> int:
        """The first number of divisions.

        >>> dividing.exact_table(workshop, 2, 20).first
        2
        """
        return self._first

    @property
    def last(self) -> int:
        """The last number of divisions.

        >>> dividing.exact_table(workshop, 2, 20).last
        20
        """
        return self._last

    @property
    def sections(self) -> tuple[TableSection, ...]:
        """By equipment, in the order of the workshop, and method.

        >>> [str(it.method) for it in dividing.exact_table(workshop, 2, 20).sections]
        ['simple', 'compound', 'held']
        """
        return self._sections

    @property
    def complete(self) -> bool:
        """Whether all was looked at. Where not, what is marked exact is, and a row
        that is not may be.

        >>> dividing.exact_table(workshop, 2, 20).complete
        True
        """
        return self._complete

    def __getitem__(self, key: tuple[str, TableMethod | str]) -> TableSection:
        for section in self._sections:
            if (section.equipment, section.method) == key:
                return section
        known = ", ".join(f"({it.equipment!r}, '{it.method}')" for it in self._sections)
        raise UnknownNameError(f"there is no section {key!a}; accepted: {known}", "key")

    def __len__(self) -> int:
        return len(self._sections)

    def __iter__(self) -> Iterator[TableSection]:
        return iter(self._sections)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, IndexingTable):
            return NotImplemented
        return (self._first, self._last, self._sections, self._complete) == (
            other._first,
            other._last,
            other._sections,
            other._complete,
        )

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        span = f"{self._first} to {self._last}"
        return f"<IndexingTable of {span} divisions, {len(self)} sections>"

    def _repr_html_(self) -> str:
        rows = [
            [it.equipment, str(it.method), f"{int(it['exact'].sum())} of {len(it['exact'])}"]
            for it in self._sections
        ]
        title = f"Divisions {self._first} to {self._last}"
        return grid(title, ["Equipment", "Method", "Exact"], rows)
