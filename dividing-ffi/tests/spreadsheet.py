"""The engine in LibreOffice Calc, without a screen: spreadsheet.py LIBRARY

Makes the package, installs it in a folder of its own, lets Calc work out a
document whose cells hold the cases of the vectors, and compares every cell.
Then the example document in dividing-ffi/spreadsheet, whose last column says
what each of its cells must show."""

import csv
import json
import math
import os
import subprocess
import sys
import tempfile
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree
from xml.sax.saxutils import quoteattr

TOP = Path(__file__).resolve().parents[2]
SPREADSHEET = TOP / "dividing-ffi" / "spreadsheet"
sys.path.insert(0, str(SPREADSHEET))
from functions import FUNCTIONS  # noqa: E402

METHODS = {function.name: function.method for function in FUNCTIONS}
# What Calc shows where a function gives NaN.
REFUSED = "#NUM!"
# Calc writes 15 digits.
DIGITS = 1e-13


def vectors(name):
    return json.loads((TOP / "tests" / "vectors" / f"{name}.json").read_text(encoding="utf-8"))


def cell(name, *arguments):
    """A formula as files hold it: the long name, whatever the user's language."""
    written = ";".join(
        '"' + argument + '"' if isinstance(argument, str) else repr(float(argument))
        for argument in arguments
    )
    return f"of:=DIVIDING.CELLS.{METHODS[name].upper()}({written})"


def worm_cases():
    """Published settings of worm heads; the residual of an exact one is 0."""
    for case in vectors("worm")["cases"]:
        if case["kind"] not in ("simple_first", "simple_among"):
            continue
        ratio, divisions, circle = case["worm_ratio"], case["divisions"], case["circle"]
        yield case["id"], cell("CRANK_TURNS", ratio, 1, divisions), case["turns"], 0
        if circle is None:
            continue  # whole turns alone
        yield case["id"], cell("CRANK_HOLES", ratio, 1, divisions, circle), case["holes"], 0
        yield case["id"], cell("CRANK_RESIDUAL", ratio, 1, divisions, circle, 1), 0, 0


def residual_cases():
    """Exact fractions, worked out here: the nearest hole, then back to the spindle."""
    for divisions, holes, part in ((7, 20, 1), (7, 20, 2), (127, 49, 64), (51, 20, 50)):
        wanted = Fraction(40 * part, divisions) * holes
        lower = math.floor(wanted)
        hole = lower if wanted - lower <= Fraction(1, 2) else lower + 1
        off = Fraction(hole - wanted, 1) / holes / 40 * 360 * 3600
        yield f"{part}/{divisions} on {holes}", \
            cell("CRANK_RESIDUAL", 40, 1, divisions, holes, part), float(off), 1e-9


def circle_cases():
    """Published factors of chords; X and Y by the definition of sine and cosine."""
    for case in vectors("features")["checks"]:
        if case["kind"] == "chord":
            inputs = case["inputs"]
            yield case["id"], \
                cell("BOLT_CHORD", Fraction(inputs["diameter"]) / 2, inputs["count"],
                     inputs["spaces"]), \
                float(Fraction(case["expected"])), float(Fraction(case["tolerance"]))
    for hole in range(7):
        angle = math.radians(15 + 360 / 7 * hole)
        yield f"hole {hole} of 7", cell("BOLT_X", 30, 7, hole, 15), 30 * math.cos(angle), 1e-9
        yield f"hole {hole} of 7", cell("BOLT_Y", 30, 7, hole, 15), 30 * math.sin(angle), 1e-9


def fit_cases():
    """Limit deviations of ISO 286-2 as in the vectors, hole against shaft."""
    rows = [row for row in vectors("iso_286") if "class" in row]
    for hole in rows:
        for shaft in rows:
            if hole["class"][0].isupper() and shaft["class"][0].islower() \
                    and hole["up_to_mm"] == shaft["up_to_mm"]:
                fit, size = f"{hole['class']}/{shaft['class']}", hole["up_to_mm"]
                yield f"{fit} {size}", cell("FIT_LEAST", fit, size), \
                    (hole["lower_um"] - shaft["upper_um"]) / 1000, 1e-12
                yield f"{fit} {size}", cell("FIT_GREATEST", fit, size), \
                    (hole["upper_um"] - shaft["lower_um"]) / 1000, 1e-12


def other_cases():
    for case in vectors("gauge_blocks")["checks"]:
        if case["kind"] == "sine_height" and "height_in" in case["expected"]:
            inches = float(case["inputs"]["length"].removesuffix(" in"))
            text = case["inputs"]["angle"].removesuffix(" deg").rstrip("'")
            degrees, _, minutes = text.partition("°")
            angle = float(degrees) + float(minutes or 0) / 60
            yield case["id"], cell("SINE_HEIGHT", inches * 25.4, angle), \
                float(Fraction(case["expected"]["height_in"])) * 25.4, \
                float(Fraction(case["tolerance"])) * 25.4
    yield "half of 100", cell("SINE_HEIGHT", 100, 30), 50, 0
    # Depth of cut from the two sizes that a calliper measures.
    yield "20 on 24", cell("FLAT_DEPTH", 24, 20), 2, 0
    yield "17 on 19.63", cell("FLAT_DEPTH", 19.63, 17), 1.315, 1e-12
    # The chord of half the clearance as an angle, and half the zone over the radius.
    play = 2 * math.asin(0.02 / 4 / 50) + 0.05 / 2 / 50
    yield "pin at 50", cell("PIN_ERROR", 50, 0.02, 0.05), math.degrees(play) * 3600, 1e-9


def refused_cases():
    yield "no such hole", cell("CRANK_HOLES", 40, 1, 9, 20), REFUSED, None
    yield "half a division", cell("CRANK_TURNS", 40, 1, 9.5), REFUSED, None
    yield "one hole", cell("BOLT_X", 30, 1, 0, 0), REFUSED, None
    yield "no fit", cell("FIT_LEAST", "g6/H7", 6), REFUSED, None
    yield "a right angle", cell("SINE_HEIGHT", 100, 90), REFUSED, None
    yield "no cut", cell("FLAT_DEPTH", 20, 20), REFUSED, None


def document(formulas):
    rows = "".join(
        f"<table:table-row><table:table-cell table:formula={quoteattr(formula)}/></table:table-row>\n"
        for formula in formulas
    )
    spaces = " ".join(
        f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{name}"'
        for short, name in (("office", "office:1.0"), ("table", "table:1.0"), ("of", "of:1.2"))
    )
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<office:document {spaces} office:version="1.2" '
        'office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body>'
        f'<office:spreadsheet><table:table table:name="cases">\n{rows}</table:table>'
        "</office:spreadsheet></office:body></office:document>\n"
    )


class Calc:
    """Calc with the package, in a folder of its own: the machine's stays as it is."""

    def __init__(self, folder, library):
        self.folder = folder
        packages = (folder / "packages").as_uri()
        self.own = [
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            f"-env:UNO_SHARED_PACKAGES={packages}",
            f"-env:UNO_SHARED_PACKAGES_CACHE={packages}",
        ]
        (folder / "packages").mkdir()
        package = folder / "dividing.oxt"
        self.run([sys.executable, SPREADSHEET / "make_package.py", library, package])
        self.run(["unopkg", "add", "--shared", "--force", *self.own, package])

    def run(self, command):
        # Calc's own Python looks for its modules by PATH, and must not find those
        # of another Python there.
        environment = os.environ | {"HOME": str(self.folder), "PATH": os.defpath}
        for name in ("PYTHONHOME", "PYTHONPATH", "VIRTUAL_ENV"):
            environment.pop(name, None)
        done = subprocess.run(list(map(str, command)), env=environment, text=True,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=300,
                              check=False)
        if done.returncode != 0:
            sys.exit(f"{command[0]} ended with {done.returncode}:\n{done.stdout}")

    def rows(self, path):
        """The cells of a document, worked out."""
        self.run(["soffice", "--headless", "--norestore", *self.own, "--convert-to",
                  "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false", "--outdir",
                  self.folder, path])
        with open(self.folder / f"{path.stem}.csv", encoding="utf-8", newline="") as file:
            return list(csv.reader(file))


def agrees(found, wanted, tolerance):
    if isinstance(wanted, str):
        return found == wanted
    try:
        return abs(float(found) - wanted) <= tolerance + abs(wanted) * DIGITS
    except ValueError:
        return False


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    cases = [
        case
        for cases in (worm_cases, residual_cases, circle_cases, fit_cases, other_cases,
                      refused_cases)
        for case in cases()
    ]
    wrong = []
    for name, method in METHODS.items():
        if not any(f".{method.upper()}(" in formula for _, formula, _, _ in cases):
            wrong.append(f"no case for {name}")
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        calc = Calc(folder, sys.argv[1])
        path = folder / "cases.fods"
        path.write_text(document([formula for _, formula, _, _ in cases]), encoding="utf-8")
        found = calc.rows(path)
        if len(found) != len(cases):
            sys.exit(f"{len(found)} rows for {len(cases)} cases")
        for (name, formula, wanted, tolerance), (shown,) in zip(cases, found, strict=True):
            if not agrees(shown, wanted, tolerance):
                wrong.append(f"{name}: {formula} shows {shown}, wanted {wanted}")
        example = SPREADSHEET / "shop.fods"
        ElementTree.parse(example)
        rows = [row for row in calc.rows(example) if len(row) >= 3 and row[2]][1:]
        if len(rows) < len(FUNCTIONS):
            wrong.append(f"{example.name} has {len(rows)} rows")
        for label, shown, says, *_ in rows:
            wanted = says if says == REFUSED else float(says)
            if not agrees(shown, wanted, 5e-5):
                wrong.append(f"{example.name}: {label} shows {shown}, wanted {says}")
    for line in wrong[:20]:
        print(line)
    print(f"{len(cases)} cells and {len(rows)} of the example, {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
