"""The cell functions: what the package, the type description and the test
document are made from. The C function of each stands in dividing.h, where its
limits are."""

from typing import NamedTuple


class Argument(NamedTuple):
    name: str
    help: str
    text: bool = False


class Function(NamedTuple):
    name: str  # in a cell, after "DIVIDING."
    symbol: str  # of the C library
    help: str
    arguments: tuple[Argument, ...]

    @property
    def method(self) -> str:
        """The name inside the package: crankHoles for CRANK_HOLES."""
        first, *rest = self.name.lower().split("_")
        return first + "".join(word.capitalize() for word in rest)


WORM = Argument("worm turns", "Turns of the crank for the spindle turns: 40 for the usual head.")
SPINDLE = Argument("spindle turns", "Turns of the spindle for the worm turns: 1 for the usual head.")
DIVISIONS = Argument("divisions", "How many equal parts.")
HOLES = Argument("holes", "Holes of the circle on the index plate.")
RADIUS = Argument("radius", "Radius of the circle of holes, in millimetres.")
COUNT = Argument("count", "How many holes, equally spaced.")
HOLE = Argument("hole", "The hole, counted from 0.")
FIRST = Argument("first angle", "Angle of hole 0 from the X axis, in degrees.")
FIT = Argument("fit", "The classes of hole and pin, as H7/g6.", text=True)
NOMINAL = Argument("nominal", "Nominal size, in millimetres.")

FUNCTIONS = (
    Function("CRANK_TURNS", "dividing_crank_whole_turns",
             "Whole turns of the crank for one of the equal parts.", (WORM, SPINDLE, DIVISIONS)),
    Function("CRANK_HOLES", "dividing_crank_holes",
             "Holes beyond the whole turns; an error where the circle does not hold the part.",
             (WORM, SPINDLE, DIVISIONS, HOLES)),
    Function("CRANK_RESIDUAL", "dividing_crank_residual_arcsec",
             "How far off the nearest hole leaves the spindle, in seconds of arc.",
             (WORM, SPINDLE, DIVISIONS, HOLES,
              Argument("part", "The part, counted from 0, set from zero."))),
    Function("BOLT_X", "dividing_bolt_circle_x_mm",
             "X of a hole of a bolt circle, in millimetres.", (RADIUS, COUNT, HOLE, FIRST)),
    Function("BOLT_Y", "dividing_bolt_circle_y_mm",
             "Y of a hole of a bolt circle, in millimetres.", (RADIUS, COUNT, HOLE, FIRST)),
    Function("BOLT_CHORD", "dividing_bolt_circle_chord_mm",
             "Centre distance of two holes of a bolt circle, in millimetres.",
             (RADIUS, COUNT, Argument("spaces", "Hole spaces between them: 1 for neighbours."))),
    Function("FLAT_DEPTH", "dividing_flat_depth_mm",
             "Depth of cut of a flat on round stock, in millimetres.",
             (Argument("stock diameter", "Diameter of the stock, in millimetres."),
              Argument("across flats", "Size across flats, in millimetres."))),
    Function("FIT_LEAST", "dividing_fit_least_clearance_mm",
             "Least clearance of a fit, in millimetres; below 0 for interference.",
             (FIT, NOMINAL)),
    Function("FIT_GREATEST", "dividing_fit_greatest_clearance_mm",
             "Greatest clearance of a fit, in millimetres.", (FIT, NOMINAL)),
    Function("PIN_ERROR", "dividing_pin_worst_error_arcsec",
             "Worst error of angle of a part held by a pin in a hole, in seconds of arc.",
             (RADIUS, Argument("clearance", "Hole less pin, in millimetres."),
              Argument("position", "Diameter of the zone of the hole's centre, in millimetres."))),
    Function("SINE_HEIGHT", "dividing_sine_bar_height_mm",
             "Height of the blocks under a sine bar, in millimetres.",
             (Argument("length", "Distance of the rollers, in millimetres."),
              Argument("angle", "The angle to set, in degrees."))),
)
