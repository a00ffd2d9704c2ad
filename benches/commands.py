"""Times whole commands of the release program and holds them to the project's speed figures.

Run by `cargo xtask bench`. Prints one row a figure: the best of several runs, the limit, and, where
a general-purpose library does the same work, the ratio to it. Exits 1 when a limit is broken.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import struct
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import openpyxl
import rasterio
from scipy.interpolate import LinearNDInterpolator

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
    """Largest resident set of one run."""
    child = subprocess.Popen([PROGRAM, *map(str, arguments)], stdout=subprocess.DEVNULL)
    _, _, usage = os.wait4(child.pid, 0)
    return usage.ru_maxrss / 1024


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


def many_surveys(folder: Path, surveys: int = 40) -> Path:
    """So many surveys of 1,000 sites with 6 observations each."""
    book = folder / f"many-{surveys}.gpkg"
    run("new", book, "--name", "Invented", "--region", "WI")
    draw = random.Random(7)
    for survey in range(surveys):
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


def scipy_surface(points: np.ndarray, cells: int = 160_000) -> float:
    """Seconds SciPy takes for a Delaunay triangulation and linear interpolation on a grid."""
    started = time.perf_counter()
    surface = LinearNDInterpolator(points[:, :2], points[:, 2])
    side = int(cells**0.5)
    x = np.linspace(points[:, 0].min(), points[:, 0].max(), side)
    y = np.linspace(points[:, 1].min(), points[:, 1].max(), side)
    surface(*np.meshgrid(x, y))
    return time.perf_counter() - started


def round_lake(folder: Path, count: int) -> tuple[Path, np.ndarray]:
    """A round lake of 1 km with so many soundings of a bowl."""
    book, shore, depths = folder / f"round-{count}.gpkg", folder / "round.geojson", folder / f"depths-{count}.csv"
    turn = np.linspace(0, 2 * np.pi, 361)[:-1]
    ring = np.column_stack([500_000 + 1_000 * np.cos(turn), 4_980_000 + 1_000 * np.sin(turn)])
    draw = np.random.default_rng(11)
    radius, angle = 990 * np.sqrt(draw.random(count)), 2 * np.pi * draw.random(count)
    points = np.column_stack(
        [500_000 + radius * np.cos(angle), 4_980_000 + radius * np.sin(angle), 12 * (1 - (radius / 1_000) ** 2) + 0.1]
    )
    shore.write_text(json.dumps({"type": "Polygon", "coordinates": [[*ring.tolist(), ring[0].tolist()]]}))
    np.savetxt(depths, points, fmt="%.3f", delimiter=",", header="x,y,depth", comments="")
    run("new", book, "--name", "Round Lake")
    run("add", book, "outline", shore, "--crs", "EPSG:32615")
    run("add", book, "depths", depths, "--crs", "EPSG:32615", "--unit", "m")
    return book, points


def islands(folder: Path) -> Path:
    """A lake of 185 km² with 68 islands and 5,000 corners of shore, a launch, 300 sites."""
    turn = np.linspace(0, 2 * np.pi, 3_001)[:-1]
    radius = 7_000 * (1 + 0.28 * np.sin(5 * turn) + 0.14 * np.sin(17 * turn) + 0.05 * np.sin(61 * turn))
    shore = np.column_stack([500_000 + radius * np.cos(turn), 4_980_000 + radius * np.sin(turn)])
    rings = [[*shore.tolist(), shore[0].tolist()]]
    for number in range(68):
        # a sunflower spiral keeps them apart and inside the innermost bays
        out, angle = 3_400 * np.sqrt((number + 0.5) / 68), number * 2.399_963
        round_it = np.linspace(0, 2 * np.pi, 31)[:-1]
        size = 110 * (1 + 0.3 * np.sin(3 * round_it + number))
        ring = np.column_stack(
            [500_000 + out * np.cos(angle) + size * np.cos(round_it), 4_980_000 + out * np.sin(angle) + size * np.sin(round_it)]
        )
        rings.append([*ring.tolist(), ring[0].tolist()])
    outline, launch, book = folder / "islands.geojson", folder / "islands.csv", folder / "islands.gpkg"
    outline.write_text(json.dumps({"type": "Polygon", "coordinates": rings}))
    launch.write_text(f"name,kind,x,y\nLaunch,launch,{shore[0][0] - 5:.1f},{shore[0][1]:.1f}\n")
    run("new", book, "--name", "Island Lake")
    run("add", book, "outline", outline, "--crs", "EPSG:32615")
    run("add", book, "landmarks", launch, "--crs", "EPSG:32615")
    run("plan", book, "--survey", "tour", "--layout", "balanced", "--sites", "300")
    return book


def quarters(folder: Path, book: Path) -> None:
    """Gives the lake of islands four zones that reach onto the land."""
    features = []
    for east in (0, 1):
        for north in (0, 1):
            west, south = 493_000 + 7_000 * east, 4_973_000 + 7_000 * north
            box = [[west, south], [west + 7_000, south], [west + 7_000, south + 7_000], [west, south + 7_000]]
            shape = {"type": "Polygon", "coordinates": [[*box, box[0]]]}
            features.append({"type": "Feature", "properties": {"code": f"Z{east}{north}"}, "geometry": shape})
    zones = folder / "quarters.geojson"
    zones.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    run("add", book, "zones", zones, "--crs", "EPSG:32615")


def tour(book: Path, budget: float) -> tuple[object, ...]:
    """A route by a boat so fast that every site fits into the day, searched for so many seconds."""
    fast = ("--date", "2026-07-14", "--utc-offset", "-5", "--speed", "90mph", "--minutes-per-site", "0.1")
    return ("route", book, "--survey", "tour", *fast, "--budget", budget, "--json")


def sixty_species(folder: Path) -> Path:
    """A thousand sites, one column a species, 0 to 3 each."""
    draw = random.Random(5)
    table = folder / "sixty.csv"
    names = [f"Inventa species{chr(97 + n // 26)}{chr(97 + n % 26)}" for n in range(60)]
    rows = [",".join(["site", "date", "depth_ft", *names])]
    for site in range(1, 1001):
        cells = [str(max(0, draw.randint(-8, 3))) for _ in names]
        rows.append(",".join([str(site), "2026-07-15", f"{draw.uniform(1, 15):.1f}", *cells]))
    table.write_text("\n".join(rows) + "\n")
    book = folder / "sixty.gpkg"
    run("new", book, "--name", "Invented")
    run("record", book, table, "--survey", "2026", "--scale", "fullness", "--new-taxa")
    return book


def apart(folder: Path, many: Path) -> tuple[Path, Path]:
    """Two copies of a book, each with a survey of its own besides."""
    copies = []
    for name in ("one", "other"):
        copy = folder / f"{many.stem}-{name}.gpkg"
        shutil.copy(many, copy)
        table = folder / f"{name}.csv"
        rows = [f"{site},2025-07-15,{site % 9 + 1},coontail,2" for site in range(1, 1001)]
        table.write_text("site,date,depth_ft,species,rating\n" + "\n".join(rows) + "\n")
        run("record", copy, table, "--survey", f"2025-{name}", "--scale", "fullness")
        copies.append(copy)
    return copies[0], copies[1]


def photos(folder: Path) -> tuple[Path, Path]:
    """200 JPEG photos of about 4 MB and 12 million pixels, each taken at a site of a survey, and its book."""
    book, table, pictures = folder / "photos.gpkg", folder / "photos.csv", folder / "photos"
    pictures.mkdir()
    rows = [f"{site},2026-07-15,{9 + site // 30:02}:{2 * (site % 30):02},5,coontail,2" for site in range(200)]
    table.write_text("site,date,time,depth_ft,species,rating\n" + "\n".join(rows) + "\n")
    run("new", book, "--name", "Invented")
    run("record", book, table, "--survey", "2026", "--scale", "fullness", "--new-taxa")
    draw = np.random.default_rng(3)
    plain = folder / "plain.jpg"
    ramp = np.add.outer(np.linspace(0, 120, 3_000), np.linspace(0, 100, 4_000))
    pixels = np.clip(ramp + draw.normal(0, 12, (3, 3_000, 4_000)), 0, 255).astype("uint8")
    profile = {"driver": "JPEG", "width": 4_000, "height": 3_000, "count": 3, "dtype": "uint8", "quality": 90}
    with rasterio.open(plain, "w", **profile) as picture:
        picture.write(pixels)
    jpeg = plain.read_bytes()
    for site in range(200):
        moment = f"2026:07:15 {9 + site // 30:02}:{2 * (site % 30):02}:10\0".encode()
        # little-endian TIFF: one pointer to the camera's block, which holds the time it was taken
        tiff = struct.pack("<2sHIHHHIIIHHHIII", b"II", 42, 8, 1, 0x8769, 4, 1, 26, 0, 1, 0x9003, 2, len(moment), 44, 0) + moment
        block = b"Exif\0\0" + tiff
        (pictures / f"IMG_{site:04}.jpg").write_bytes(
            jpeg[:2] + b"\xff\xe1" + struct.pack(">H", len(block) + 2) + block + jpeg[2:]
        )
    return book, pictures


def workbook(folder: Path) -> Path:
    """10,000 rows of a workbook."""
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Sheet1")
    sheet.append(["site", "date", "depth_ft", "coontail", "wild celery", "Chara"])
    for site in range(1, 10_001):
        sheet.append([site, "2026-07-15", site % 12 + 1, site % 4, (site + 1) % 4, site % 3])
    file = folder / "big.xlsx"
    book.save(file)
    return file


def main() -> int:
    rows: list[tuple[str, float, float, str]] = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows.append(("program start, s", best(10, "--version"), 0.05, ""))
        book = wingra(folder)
        if book is not None:
            seconds = best(3, "lake", book, "--json")
            rows.append(("lake on 50,262 depths, s", seconds, 2.0, ""))
            rows.append(("lake on 50,262 depths, MB", most_memory_mb("lake", book, "--json"), 300.0, ""))
            launch = folder / "launch.csv"
            launch.write_text("name,kind,latitude,longitude\nLaunch,launch,43.0560,-89.4180\n")
            run("add", book, "landmarks", launch)
            run("plan", book, "--survey", "sheets", "--layout", "balanced", "--sites", "300")
            seconds = best(2, "print", book, "sheets", "--survey", "sheets", "-o", folder / "sheets.pdf")
            rows.append(("sheets for 300 sites, s", seconds, 4.0, ""))
            run("plan", book, "--survey", "tour", "--layout", "balanced", "--sites", "500")
            # the search takes what it is given: 1.5 s, and what stands around it has to fit into the rest
            whole, bare = best(2, *tour(book, 1.5)), best(2, *tour(book, 0.05))
            length, longer = (json.loads(run(*tour(book, seconds)))["length_m"] for seconds in (10, 1.5))
            told = f"{100 * (longer / length - 1):.1f} % longer than after 10 s"
            rows.append(("tour of 500 sites after the distances, s", whole - bare + 0.05, 2.0, told))
        book = islands(folder)
        seconds = best(2, *tour(book, 0.05))
        rows.append(("distances by water, 300 sites and 68 islands, s", seconds, 3.0, "the whole command"))
        quarters(folder, book)
        told = "areas, shores, fetch and zones, the whole command"
        rows.append(("lake of 68 islands and four zones, s", best(3, "lake", book, "--json"), 0.2, told))
        for count, limit in ((10_000, 1.0), (100_000, 1.0), (1_000_000, 10.0)):
            book, points = round_lake(folder, count)
            seconds = best(2, "lake", book, "--json")
            ratio = f"scipy takes {scipy_surface(points) / seconds:.1f} times as long" if count == 100_000 else ""
            rows.append((f"lake on {count:,} depths, s", seconds, limit, ratio))
            if count == 100_000:
                rows.append((f"lake on {count:,} depths, MB", most_memory_mb("lake", book, "--json"), 500.0, ""))
        sixty = sixty_species(folder)
        rows.append(("findings of 1,000 sites and 60 species, s", best(3, "findings", sixty, "--survey", "2026", "--json"), 0.3, ""))
        seconds = best(2, "record", sixty, workbook(folder), "--survey", "big", "--new-scale", "--preview", "--json")
        rows.append(("preview of a workbook of 10,000 rows, s", seconds, 2.0, ""))
        one, other = apart(folder, many_surveys(folder, 7))
        started = time.perf_counter()
        run("merge", one, other)
        rows.append(("merge of two books of 42,000 observations, s", time.perf_counter() - started, 3.0, ""))
        book, pictures = photos(folder)
        megabytes = sum(path.stat().st_size for path in pictures.iterdir()) / 200e6
        started = time.perf_counter()
        run("photos", book, pictures, "--survey", "2026")
        rows.append((f"200 photos of {megabytes:.1f} MB brought to their sites, s", time.perf_counter() - started, 60.0, ""))
        shutil.rmtree(pictures)
        many = many_surveys(folder)
        one, other = apart(folder, many)
        started = time.perf_counter()
        run("merge", one, other)
        rows.append(("merge of two books of 240,000 observations, s", time.perf_counter() - started, 18.0, ""))
        # held against all earlier ones: what is new, what rises or falls
        seconds = best(3, "findings", many, "--survey", "2019", "--json")
        rows.append(("findings of the last of 40 surveys, 240,000 observations, s", seconds, 1.0, ""))
        demo = folder / "demo"
        run("demo", "--no-serve", "--dir", demo)
        lake = next(demo.glob("*.gpkg"))
        survey = sorted(line.split()[0] for line in run("surveys", lake).splitlines()[2:] if line.strip())[-1]
        rows.append(("report, s", best(3, "print", lake, "report", "--survey", survey, "-o", folder / "report.pdf"), 4.0, ""))
    width = max(len(row[0]) for row in rows)
    broken = False
    for what, value, limit, ratio in rows:
        over = value > limit
        broken |= over
        print(f"{what:<{width}}  {value:8.3f}  limit {limit:g}{'  OVER' if over else ''}  {ratio}")
    return int(broken)


if __name__ == "__main__":
    sys.exit(main())
