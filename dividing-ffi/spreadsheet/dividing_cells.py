"""The cell functions as a component of the spreadsheet: hands numbers to the
shared library that lies beside this file, and its answer back. NaN, the
library's "no answer", shows as an error in the cell."""

import ctypes
import pathlib
import sys

import unohelper
from com.sun.star.lang import XServiceInfo

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))
from functions import FUNCTIONS  # noqa: E402

try:
    from dividing import XCells

    INTERFACES = (XCells, XServiceInfo)
except ImportError:
    # While the package is being registered its types are not there yet.
    INTERFACES = (XServiceInfo,)

IMPLEMENTATION = "dividing.Cells"
SERVICES = ("com.sun.star.sheet.AddIn", IMPLEMENTATION)
NUL_ENDED = ctypes.c_size_t(-1)


def _called(library, function):
    """A method that calls the C function."""
    call = getattr(library, function.symbol)
    call.restype = ctypes.c_double
    call.argtypes = [
        kind
        for argument in function.arguments
        for kind in ((ctypes.c_char_p, ctypes.c_size_t) if argument.text else (ctypes.c_double,))
    ]

    def method(self, *values):
        given = []
        for value in values:
            given += [value.encode(), NUL_ENDED] if isinstance(value, str) else [value]
        return call(*given)

    return method


class Cells(unohelper.Base, *INTERFACES):
    def __init__(self, context):
        self.context = context

    def getImplementationName(self):
        return IMPLEMENTATION

    def supportsService(self, name):
        return name in SERVICES

    def getSupportedServiceNames(self):
        return SERVICES


_library = ctypes.CDLL(str(HERE / "libdividing.so"))
for _function in FUNCTIONS:
    setattr(Cells, _function.method, _called(_library, _function))

g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(Cells, IMPLEMENTATION, SERVICES)
