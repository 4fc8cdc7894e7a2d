"""Processor time of muralheat and of finite elements on the reference cases, at what error of the depth.

    python3 testdata/reference/speed.py [CASE ...]      (disc, needle, coupled, track, boiling; drying takes minutes)

In the root of the repository; one core, setting up included, reading files and starting programs not. Finite elements are fem.py on its
coarse mesh and on one with twice the cells' size and steps. The error is the depth of the injury less where the three stored meshes of
fem.py tend (CASE.csv); below the uncertainty of that, 0.001 mm where nothing boils and 0.006 mm where it does, errors are
equal. Of the track there are no elements along it in fem.py: FreeFem++ computes it in three dimensions (track.edp) if it is installed with libfreefem++, and
track.py, which sums up axisymmetric elements and so holds for constant properties alone, stands beside it. The last column is the time over that of the fastest muralheat which is at least as close.
"""
import csv
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)
import fem  # noqa: E402  after the number of threads is set
import track  # noqa: E402


def tends(case):
    """Depth that the stored meshes tend to, mm."""
    with open(f"{HERE}/{case}.csv") as f:
        for row in csv.DictReader(line for line in f if not line.startswith("#")):
            if row["quantity"] == "injury_depth_mm":
                return float(row["extrapolated"])
    raise KeyError(case)


def ours(cases):
    """Rows of muralheat: case -> (name, cells, CPU s, depth in mm)."""
    said = subprocess.run(["go", "test", "-run", "^$", "-bench", "Reference/(" + "|".join(cases) + ")/", "-benchtime", "5x", "./thermal"],
                          check=True, capture_output=True, text=True, env={**os.environ, "GOMAXPROCS": "1"}).stdout
    rows = {}
    for name, quality, rest in re.findall(r"^BenchmarkReference/(\w+)/(\w+)(.*)$", said, re.M):
        value = {unit: float(v) for v, unit in re.findall(r"([\d.e+-]+) (\S+)", rest)}
        rows.setdefault(name, []).append((f"muralheat, {quality}", int(value["cells"]), value["cpu-s/op"], value["depth-nm"] * 1e-6))
    return rows


def tracked():
    """The same of the track: in three dimensions, and summed up."""
    rows, case = [], f"{HERE}/track.yaml"
    if shutil.which("FreeFem++"):
        with tempfile.NamedTemporaryFile() as out:
            subprocess.run(["FreeFem++", "-nw", "-v", "0", f"{HERE}/track.edp", "-n", "0.7", "-dt", "0.1", "-out", out.name], check=True, capture_output=True,
                           env={"FF_LOADPATH": "/usr/lib/freefem++", **os.environ})  # where Debian puts msh3
            with open(out.name) as f:
                value = {row["quantity"]: float(row["value"]) for row in csv.DictReader(f)}
        rows.append(("track.edp, 3-D", int(value["tetrahedra"]), value["cpu_s"], value["injury_depth_mm"]))
    before, found = time.process_time(), {}
    t = track.solve(case, 0, lambda quantity, unit, s, value: found.update({quantity: value}))
    return rows + [("track.py, coarse: linear cases alone", len(t.c.m.tri), time.process_time() - before, found["injury_depth_mm"])]


def elements(case):
    """The same of fem.py."""
    if case == "track":
        return tracked()
    rows = []
    for level, name in ((-1, "fem.py, twice as coarse"), (0, "fem.py, coarse")):
        before, found = time.process_time(), {}
        c = fem.Case(f"{HERE}/{case}.yaml", level)
        (fem.boil if c.boiling else fem.smooth)(c, lambda quantity, unit, s, value: found.update({quantity: value}))
        rows.append((name, len(c.m.tri), time.process_time() - before, found["injury_depth_mm"]))
    return rows


def main(cases):
    our = ours(cases)
    print("| case | program, mesh | cells | CPU s | depth error, mm | over muralheat at no larger error |")
    print("| --- | --- | --- | --- | --- | --- |")
    for case in cases:
        known = 0.001 if case in ("disc", "needle", "coupled", "track") else 0.006
        error = lambda row: max(abs(row[3] - tends(case)), known)
        for row in our[case] + elements(case):
            as_close = [r[2] for r in our[case] if error(r) <= error(row)]
            ratio = f"{row[2] / min(as_close):.3g}" if row not in our[case] and as_close else "" if row in our[case] else "none as close"
            print(f"| {case} | {row[0]} | {row[1]} | {row[2]:.3g} | {row[3] - tends(case):+.4f} | {ratio} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:] or ["disc", "needle", "coupled", "track", "boiling"])
