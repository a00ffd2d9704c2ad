"""Times whole commands of the release program and holds them to the project's speed figures.

Run by `cargo xtask bench`. Prints one row a figure: the best of several runs, the limit, and, where
a general-purpose library does the same work, the ratio to it. Exits 1 when a limit is broken.
"""

from __future__ import annotations

import gzip
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = os.environ.get("QUILLWORT", str(ROOT / "target/release/quillwort"))
sys.path.insert(0, str(ROOT / "checks"))

from open_data import folder  # noqa: E402

DATA = folder()
SPECIES = ["CEDE", "NAFL", "CHAR", "POZO", "VAAM", "ELCA"]


def run(*arguments: object) -> str:
    done = subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        sys.exit(f"{arguments}: {done.stderr}")
    return done.stdout


def best(times: int, *arguments: object) -> float:
    durations = []
    for _ in range(times):
        started = time.perf_counter()
        run(*arguments)
        durations.append(time.perf_counter() - started)
    return min(durations)


def most_memory_mb(*arguments: object) -> float:
    """Largest resident set of a run, in a child of its own so that earlier runs do not count."""
    child = os.fork()
    if child == 0:
        subprocess.run([PROGRAM, *map(str, arguments)], stdout=subprocess.DEVNULL, check=False)
        os._exit(0)
    _, _, usage = os.wait4(child, 0)
    # a waiting parent's figure does not hold its children's, so ask for the children of all
    del usage
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


def wingra(folder: Path) -> Path | None:
    source = DATA / "wingra-wi"
    if not source.is_dir():
        print(f"skip: {source} is not here")
        return None
    book = folder / "wingra.gpkg"
    run("new", book, "--name", "Lake Wingra", "--region", "WI")
    run("add", book, "outline", source / "outline/yld_study_lakes.shp", "--layer", "Lake Wingra")
    run("add", book, "depths", source / "bathymetry.csv", "--crs", "EPSG:3071", "--unit", "m")
    return book


def many_surveys(folder: Path) -> Path:
    """40 surveys of 1,000 sites with 6 observations each."""
    book = folder / "many.gpkg"
    run("new", book, "--name", "Invented", "--region", "WI")
    draw = random.Random(7)
    for survey in range(40):
        year = 1980 + survey
        file = folder / f"{year}.csv"
        rows = ["site,date,depth_ft,species,rating"]
        for site in range(1, 1001):
            depth = round(draw.uniform(1, 15), 1)
            for species in draw.sample(
                ["coontail", "slender naiad", "Chara", "flat-stem pondweed", "wild celery", "common waterweed", "water stargrass", "sago pondweed"], 6
            ):
                rows.append(f"{site},{year}-07-15,{depth},{species},{draw.randint(1, 3)}")
        file.write_text("\n".join(rows) + "\n")
        run("record", book, file, "--survey", f"{year}", "--scale", "fullness", "--new-taxa")
    return book


def scipy_surface(cells: int = 160_000) -> float | None:
    try:
        import numpy as np
        from scipy.interpolate import LinearNDInterpolator
    except ImportError:
        print("skip: scipy is not here")
        return None
    table = np.loadtxt(DATA / "wingra-wi/bathymetry.csv", delimiter=",", skiprows=1)
    started = time.perf_counter()
    surface = LinearNDInterpolator(table[:, :2], table[:, 2])
    side = int(cells**0.5)
    x = np.linspace(table[:, 0].min(), table[:, 0].max(), side)
    y = np.linspace(table[:, 1].min(), table[:, 1].max(), side)
    surface(*np.meshgrid(x, y))
    return time.perf_counter() - started


def main() -> int:
    rows: list[tuple[str, float, float, str]] = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows.append(("program start, s", best(10, "--version"), 0.05, ""))
        book = wingra(folder)
        if book is not None:
            seconds = best(3, "lake", book, "--json")
            reference = scipy_surface()
            ratio = f"{seconds / reference:.2f} of scipy's triangulation and interpolation" if reference else ""
            rows.append(("lake on 50,262 depths, s", seconds, 2.0, ratio))
            rows.append(("lake on 50,262 depths, MB", most_memory_mb("lake", book, "--json"), 300.0, ""))
        many = many_surveys(folder)
        surveys = [f"{1980 + index}" for index in range(40)]
        started = time.perf_counter()
        for survey in surveys:
            run("findings", many, "--survey", survey, "--json")
        rows.append(("findings of 40 surveys, 40 runs of the program, s", time.perf_counter() - started, 1.0 + 40 * 0.05, ""))
        demo = folder / "demo"
        run("demo", "--no-serve", "--dir", demo)
        lake = next(demo.glob("*.gpkg"))
        survey = sorted(line.split()[0] for line in run("surveys", lake).splitlines()[2:] if line.strip())[-1]
        rows.append(("report, s", best(3, "print", lake, "report", "--survey", survey, "-o", folder / "report.pdf"), 4.0, ""))
    dist = ROOT / "web" / "dist"
    if dist.is_dir():
        first = [path for path in dist.rglob("*") if path.suffix in {".js", ".css", ".html", ".woff2"}]
        size = sum(len(path.read_bytes() if path.suffix == ".woff2" else gzip.compress(path.read_bytes())) for path in first) / 1000
        rows.append(("first load of the screens, kB compressed", size, 400.0, ""))
    width = max(len(row[0]) for row in rows)
    broken = False
    for what, value, limit, ratio in rows:
        over = value > limit
        broken |= over
        print(f"{what:<{width}}  {value:8.3f}  limit {limit:g}{'  OVER' if over else ''}  {ratio}")
    return int(broken)


if __name__ == "__main__":
    sys.exit(main())
