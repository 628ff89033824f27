"""Makes the package for LibreOffice Calc: make_package.py LIBRARY PACKAGE

LIBRARY is the shared library (libdividing.so), PACKAGE the file to write
(dividing.oxt). The library travels inside the package."""

import re
import sys
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from functions import FUNCTIONS

HERE = Path(__file__).resolve().parent

MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">
 <manifest:file-entry manifest:full-path="XCells.idl"
  manifest:media-type="application/vnd.sun.star.uno-typelibrary;type=RDB"/>
 <manifest:file-entry manifest:full-path="dividing_cells.py"
  manifest:media-type="application/vnd.sun.star.uno-component;type=Python"/>
 <manifest:file-entry manifest:full-path="CalcAddIns.xcu"
  manifest:media-type="application/vnd.sun.star.configuration-data"/>
</manifest:manifest>
"""

DESCRIPTION = """<?xml version="1.0" encoding="UTF-8"?>
<description xmlns="http://openoffice.org/extensions/description/2006">
 <identifier value="dividing.Cells"/>
 <version value="{version}"/>
 <display-name><name lang="en">Dividing: exact angles round a part</name></display-name>
</description>
"""


def types():
    """The interface of the component, as the source of a type description."""
    methods = []
    for function in FUNCTIONS:
        arguments = ", ".join(
            f"[in] {'string' if argument.text else 'double'} "
            + re.sub(r" (\w)", lambda found: found[1].upper(), argument.name)
            for argument in function.arguments
        )
        methods.append(f"  double {function.method}({arguments});\n")
    return "module dividing {\n interface XCells {\n" + "".join(methods) + " };\n};\n"


def in_english(name, text):
    value = f'<value xml:lang="en">{escape(text)}</value>'
    return f'<prop oor:name="{name}">{value}</prop>'


def names():
    """What the spreadsheet shows of each function."""
    nodes = []
    for function in FUNCTIONS:
        arguments = "".join(
            f'<node oor:name={quoteattr(argument.name.replace(" ", "_"))} oor:op="replace">'
            + in_english("DisplayName", argument.name)
            + in_english("Description", argument.help)
            + "</node>"
            for argument in function.arguments
        )
        nodes.append(
            f'<node oor:name="{function.method}" oor:op="replace">'
            + in_english("DisplayName", f"DIVIDING.{function.name}")
            + in_english("Description", function.help)
            + '<prop oor:name="Category"><value>Add-In</value></prop>'
            + f'<node oor:name="Parameters">{arguments}</node></node>\n'
        )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry"\n'
        ' xmlns:xs="http://www.w3.org/2001/XMLSchema"\n'
        ' oor:name="CalcAddIns" oor:package="org.openoffice.Office">\n'
        '<node oor:name="AddInInfo"><node oor:name="dividing.Cells" oor:op="replace">\n'
        '<node oor:name="AddInFunctions">\n' + "".join(nodes) + "</node></node></node>\n"
        "</oor:component-data>\n"
    )


def version():
    header = (HERE.parent / "include" / "dividing.h").read_text()
    return re.search(r'define DIVIDING_VERSION "(.*)"', header)[1]


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    library, package = sys.argv[1:]
    with zipfile.ZipFile(package, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("META-INF/manifest.xml", MANIFEST)
        archive.writestr("description.xml", DESCRIPTION.format(version=version()))
        archive.writestr("XCells.idl", types())
        archive.writestr("CalcAddIns.xcu", names())
        archive.write(HERE / "dividing_cells.py", "dividing_cells.py")
        archive.write(HERE / "functions.py", "functions.py")
        archive.write(library, "libdividing.so")


if __name__ == "__main__":
    main()
