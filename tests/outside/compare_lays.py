"""The lay engine beside a general open solver for strip packing (spyrrow of PyPI), in one run: same time, same cores.

Usage: python compare_lays.py PROGRAM INSTANCES OUT.csv [--seeds 5] [--seconds 5 30] [--names shirts swim …]
       python compare_lays.py --table OUT.csv
PROGRAM is the release build of notchbook, INSTANCES a folder of files `neutral-strip-packing-1`. Both search with two
threads, one after the other, seed by seed, so that a machine that grows busy slows both. Each lay is put down here from the
poses that the solver gave: its density is computed anew, and shapely says how much its pieces overlap. `cores` is the time
of processors that a search got over the time it took; where it is well below 2, the machine was busy and both had less.
Needs spyrrow and shapely.
"""

import argparse
import csv
import json
import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path

GARMENTS = ["shirts", "swim", "trousers", "marques", "albano", "dagli", "mao"]
COLUMNS = ["solver", "instance", "seconds", "seed", "density", "overlap", "outside", "took", "cores"]


def ours(program, path, seconds, seed):
    command = [program, "nest", str(path), "--seconds", str(seconds), "--seed", str(seed), "--json"]
    lay = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    if not lay["proven"]:
        raise SystemExit(f"{path} {seconds} {seed}: the program did not prove its lay")
    poses = [(pose["item"], pose["degrees"], pose["x"], pose["y"]) for pose in lay["poses"]]
    return lay["length"], poses


def theirs(_program, path, seconds, seed):
    command = [sys.executable, __file__, "--solve", str(path), str(seconds), str(seed)]
    lay = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    return lay["length"], lay["poses"]


def solve(path, seconds, seed):
    """Runs in a process of its own, so that its processor time can be told apart."""
    import spyrrow

    instance = json.loads(Path(path).read_text())
    turns = lambda item: item.get("rotations_deg", instance["allowed_rotations_deg"])
    items = [
        spyrrow.Item(str(at), [tuple(corner) for corner in item["vertices"]], item["demand"], turns(item))
        for at, item in enumerate(instance["items"])
    ]
    config = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=int(seconds), num_workers=2, seed=int(seed)
    )
    found = spyrrow.StripPackingInstance(instance["name"], instance["strip_width"], items).solve(config)
    poses = [(int(one.id), one.rotation, *one.translation) for one in found.placed_items]
    print(json.dumps({"length": found.width, "poses": poses}))


def measured(instance, length, poses):
    """Density in percent; overlap and what lies off the strip, as shares of the area of all pieces in percent."""
    from shapely.affinity import rotate, translate
    from shapely.geometry import Polygon, box

    outlines = [Polygon(item["vertices"]) for item in instance["items"]]
    put = [translate(rotate(outlines[item], turn, origin=(0, 0)), x, y) for item, turn, x, y in poses]
    demands = [item["demand"] for item in instance["items"]]
    assert [sum(pose[0] == at for pose in poses) for at in range(len(demands))] == demands, "a copy is missing"
    area = sum(piece.area for piece in put)
    overlap = sum(one.intersection(other).area for at, one in enumerate(put) for other in put[at + 1 :])
    # Where the strip begins is the solver's own affair.
    left = min(piece.bounds[0] for piece in put)
    strip = box(left, 0, left + length, instance["strip_width"])
    outside = sum(piece.difference(strip).area for piece in put)
    return 100 * area / (length * instance["strip_width"]), 100 * overlap / area, 100 * outside / area


def known(path):
    """The runs that a file holds; other lines are passed over."""
    if not Path(path).exists():
        return []
    with open(path, newline="") as file:
        return [run for run in csv.DictReader(file) if run["solver"] in ("ours", "theirs") and run["cores"]]


def run(arguments):
    """Goes on where an earlier run of the same file was cut short."""
    done = {(run["solver"], run["instance"], run["seconds"], run["seed"]) for run in known(arguments.out)}
    is_new = not Path(arguments.out).exists()
    with open(arguments.out, "a", newline="") as file:
        rows = csv.writer(file)
        if is_new:
            rows.writerow(COLUMNS)
        for seed in range(1, arguments.seeds + 1):
            for name in arguments.names:
                path = Path(arguments.instances) / f"{name}.json"
                instance = json.loads(path.read_text())
                for seconds in arguments.seconds:
                    for solver in (ours, theirs):
                        if (solver.__name__, name, str(seconds), str(seed)) in done:
                            continue
                        before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
                        length, poses = solver(arguments.program, path, seconds, seed)
                        took, after = time.monotonic() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
                        spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
                        figures = [*measured(instance, length, poses), took, spent / took]
                        rows.writerow([solver.__name__, name, seconds, seed, *(f"{one:.4f}" for one in figures)])
                        file.flush()


def table(path):
    """Medians over the seeds, as a table for docs/benchmarks.md."""
    runs = known(path)
    times = sorted({int(run["seconds"]) for run in runs})
    solvers = ["ours", "theirs"]
    names = list(dict.fromkeys(run["instance"] for run in runs))

    def of(column, **wanted):
        match = lambda run: all(run[key] == str(value) for key, value in wanted.items())
        return [float(run[column]) for run in runs if match(run)]

    heads = [f"{'the engine' if solver == 'ours' else 'spyrrow'}, {seconds} s" for seconds in times for solver in solvers]
    print("| instance | " + " | ".join(heads) + " |")
    print("|---" * (len(heads) + 1) + "|")
    for name in names:
        cells = []
        for seconds in times:
            for solver in solvers:
                found = of("density", solver=solver, instance=name, seconds=seconds)
                cells.append(f"{statistics.median(found):.2f} ({min(found):.2f}–{max(found):.2f})" if found else "–")
        print(f"| {name} | " + " | ".join(cells) + " |")
    for solver in solvers:
        seeds = len({run["seed"] for run in runs if run["solver"] == solver})
        cores = of("cores", solver=solver)
        print(
            f"\n{solver}: {seeds} seeds; cores median {statistics.median(cores):.2f}, least {min(cores):.2f}; greatest overlap "
            f"{max(of('overlap', solver=solver)):.5f} %, greatest part off the strip {max(of('outside', solver=solver)):.5f} %"
        )


def main():
    if sys.argv[1:2] == ["--solve"]:
        return solve(*sys.argv[2:])
    if sys.argv[1:2] == ["--table"]:
        return table(sys.argv[2])
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program")
    parser.add_argument("instances")
    parser.add_argument("out")
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--seconds", type=int, nargs="+", default=[5, 30])
    parser.add_argument("--names", nargs="+", default=GARMENTS)
    return run(parser.parse_args())


if __name__ == "__main__":
    main()
