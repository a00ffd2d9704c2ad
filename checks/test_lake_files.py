"""Maps of a lake as they come: positions against pyproj, rasters against published tables."""

import csv
import sqlite3

import pyproj
import pytest
import shapely

from open_data import open_data

# UTM on both datums, State Plane in metres (32153, 26986), US survey feet (2288, 2272) and
# international feet (2253, 2222), with a place in each
SYSTEMS = {
    32615: (-91.2, 45.0),
    26916: (-88.2, 43.1),
    26910: (-121.5, 38.1),
    2288: (-90.3, 44.4),
    2272: (-76.1, 40.2),
    3071: (-89.45, 44.2),
    2253: (-84.6, 43.4),
    2222: (-111.8, 33.5),
    32153: (-90.1, 45.0),
    26986: (-71.9, 42.3),
    32617: (-79.4, 43.6),
}


def square(west, south, side):
    ring = [[west, south], [west + side, south], [west + side, south + side], [west, south + side], [west, south]]
    return f'{{"type":"Feature","properties":{{}},"geometry":{{"type":"Polygon","coordinates":[{ring}]}}}}'


@pytest.mark.parametrize("code", SYSTEMS, ids=[f"EPSG:{code}" for code in SYSTEMS])
def test_positions_agree_with_pyproj_to_the_millimetre(quillwort, tmp_path, code):
    """Points in the system's own numbers become the longitude and latitude that PROJ gives them."""
    program = quillwort.at(tmp_path)
    west, south = SYSTEMS[code]
    book = program.book("crs", "--region", "WI")
    (tmp_path / "outline.geojson").write_text(square(west, south, 0.02))
    program("add", book, "outline", "outline.geojson")
    # NAD 83 and its later adjustments count as WGS 84, as everywhere in the program: they part by a metre
    geographic = pyproj.CRS(code).geodetic_crs
    there = pyproj.Transformer.from_crs(geographic, code, always_xy=True)
    back = pyproj.Transformer.from_crs(code, geographic, always_xy=True)
    rows = []
    for column in range(4):
        for row in range(4):
            x, y = there.transform(west + 0.005 * column, south + 0.005 * row)
            # to the millimetre in the file, so that both read the same numbers
            rows.append((f"p{column}{row}", round(x, 3), round(y, 3)))
    with open(tmp_path / "places.csv", "w", newline="") as file:
        csv.writer(file).writerows([("name", "x", "y"), *rows])
    program("add", book, "landmarks", "places.csv", "--crs", f"EPSG:{code}")
    found = {}
    with sqlite3.connect(tmp_path / book) as store:
        for name, blob in store.execute("SELECT name, geom FROM landmark"):
            point = shapely.from_wkb(blob[8:])
            found[name] = (point.x, point.y)
    geod = pyproj.Geod(ellps="WGS84")
    worst = 0.0
    for name, x, y in rows:
        longitude, latitude = back.transform(x, y)
        worst = max(worst, geod.inv(longitude, latitude, *found[name])[2])
    assert len(found) == 16
    assert worst < 0.001, f"{worst} m"


@pytest.mark.parametrize("lake, raster", [("Long", "long_raster.tif"), ("Plainfield", "pfl_raster.tif")])
def test_a_raster_follows_the_published_table_at_every_stage(quillwort, tmp_path, lake, raster):
    """Wisconsin Department of Natural Resources (2020), elevation, area and volume of Central Sands lakes."""
    with open(open_data("wi-central-sands-bathymetry", "elev_area_vol_2020_09_04.csv")) as file:
        table = [row for row in csv.DictReader(file) if row["lake"].startswith(lake)]
    assert len(table) > 50
    reference = table[-1]
    program = quillwort.at(tmp_path)
    book = program.book("lake", "--region", "WI")
    tif = open_data("wi-central-sands-bathymetry", raster)
    program("add", book, "depths", tif, "--surface", reference["elev_m"], "--crs", "EPSG:3071")
    # the stages are printed to seven decimals, areas and volumes to seven figures or more
    rows = [row for row in table[1::5] if float(row["area_m2"])]
    assert len(rows) > 20
    for row in [*rows, reference]:
        level = float(row["elev_m"]) - float(reference["elev_m"])
        measured = program.json("lake", book, f"--level={level!r}")
        assert measured["rule"] == "raster-cells"
        assert measured["area_m2"] == pytest.approx(float(row["area_m2"]), rel=2e-9), row
        assert measured["volume_m3"] == pytest.approx(float(row["vol_m3"]), rel=2e-9), row
