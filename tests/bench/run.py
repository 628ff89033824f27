"""Runs every benchmark of the project: our program and the outside program it
is compared with, one after the other in one go, and prints one JSON line a
benchmark with name, ours_s, peer_s, ratio (peer over ours), threads and what.

Usage, from the top of the project:  python3 tests/bench/run.py [NAME ...]
It makes a virtual environment in build/bench-venv for the outside programs.
"""

import json
import math
import pathlib
import subprocess
import sys
import venv

TOP = pathlib.Path(__file__).resolve().parents[2]
ENVIRONMENT = TOP / "build" / "bench-venv"
PACKAGES = ["numpy", "scipy", "ortools"]

# Our cargo bench, the outside program beside it; none where the benchmark runs
# both sides itself.
PAIRS = {
    "plan_job": "plan_peer.py",
    "gearing": "gearing_peer.py",
    "tables": "tables_peer.py",
    "simulation": "simulation_peer.py",
    "closure": "closure_peer.py",
    "pattern": "pattern_bench.py",
    "c_calls": None,
    "python": "python_bench.py",
}

# The crate of a benchmark that is not in dividing-core.
PACKAGES_OF = {"c_calls": "dividing-ffi"}

# Programs that use the Python package of the project, as it is now.
OF_THE_PACKAGE = {"python"}


def python():
    executable = ENVIRONMENT / "bin" / "python"
    if not executable.exists():
        venv.create(ENVIRONMENT, with_pip=True)
        subprocess.run([executable, "-m", "pip", "install", "-q", *PACKAGES], check=True)
    return str(executable)


def lines(command):
    """The JSON lines that a program prints, by name; its other output passes by."""
    found = {}
    with subprocess.Popen(command, cwd=TOP, stdout=subprocess.PIPE, text=True) as process:
        for line in process.stdout:
            if line.startswith("{"):
                entry = json.loads(line)
                found[entry["name"]] = entry
    if process.returncode != 0:
        sys.exit(f"{' '.join(command)} ended with {process.returncode}")
    return found


def check_answers(name, ours, peer):
    """Both programs must have answered the same question alike."""
    for mine, theirs in zip(ours.get("answer", []), peer.get("answer", []), strict=False):
        if not math.isclose(mine, theirs, rel_tol=1e-6, abs_tol=1e-30):
            sys.exit(f"{name}: the two programs disagree: {mine} and {theirs}")


def main():
    wanted = sys.argv[1:] or list(PAIRS)
    unknown = [name for name in wanted if name not in PAIRS]
    if unknown:
        sys.exit(f"no benchmark {', '.join(unknown)}; there are: {', '.join(PAIRS)}")
    for bench in wanted:
        subprocess.run(["cargo", "build", "-q", "--benches", "--release"], cwd=TOP, check=True)
        ours = {}
        if bench in OF_THE_PACKAGE:
            package = ["install", "-q", "--force-reinstall", "--no-deps", "./dividing-py"]
            subprocess.run([python(), "-m", "pip", *package], cwd=TOP, check=True)
        else:
            crate = PACKAGES_OF.get(bench, "dividing-core")
            ours = lines(["cargo", "bench", "-q", "-p", crate, "--bench", bench])
        if PAIRS[bench] is None:
            peer = ours
        else:
            peer = lines([python(), str(TOP / "tests" / "bench" / PAIRS[bench])])
        # An outside program that runs both sides itself prints whole lines.
        whole = {name: entry for name, entry in peer.items() if "ours_s" in entry}
        for name, entry in (ours | whole).items():
            against = peer.get(name, {}).get("peer_s")
            check_answers(name, entry, peer.get(name, {}))
            line = {
                "name": name,
                "ours_s": entry.get("ours_s"),
                "peer_s": against,
                "ratio": against / entry["ours_s"] if against and entry.get("ours_s") else None,
                "threads": entry.get("threads", 1),
                "what": entry.get("what", ""),
            }
            print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
