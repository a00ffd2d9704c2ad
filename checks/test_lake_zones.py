"""Zones, contours and the depth raster of Lake Wingra against NumPy, GEOS, PROJ and GDAL.

The zones are made up; lake and depths are real (North Temperate Lakes LTER; see checks/wingra.py).
"""

import json

import numpy
import pyogrio.raw
import pytest
import rasterio
import shapely

import shapes
import wingra
from shapes import geodesic, to_metres

MIDDLE = (-89.4200, 43.0530)
ZONES = {"NW": (-1, 1, None), "NE": (1, 1, None), "SW": (-1, -1, 2010), "SE": (1, -1, 2015)}


def box(code):
    """A quarter of the plane around the middle of the lake."""
    east, north, _ = ZONES[code]
    x, y = MIDDLE
    west, right = sorted((x, x + east * 0.05))
    south, top = sorted((y, y + north * 0.05))
    return shapely.box(west, south, right, top)


@pytest.fixture(scope="module")
def zoned(quillwort, wingra_book):
    """The lake in four parts, two of them of later years."""
    lake = wingra.outline()
    features = []
    for code, (_, _, since) in ZONES.items():
        shape = shapely.intersection(box(code), lake)
        properties = {"code": code, "name": f"the {code}", "rule": "no wake"}
        if since:
            properties["since"] = since
        features.append(
            {"type": "Feature", "properties": properties, "geometry": shapely.geometry.mapping(shape)}
        )
    path = quillwort.folder / "quarters.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    quillwort("backup", wingra_book, "-o", "zoned.gpkg")
    quillwort("add", "zoned.gpkg", "zones", path)
    return "zoned.gpkg"


@pytest.fixture(scope="module")
def raster(quillwort, zoned):
    path = quillwort.folder / "bed.tif"
    quillwort("export", zoned, "--as", "geotiff", "-o", path)
    with rasterio.open(path) as file:
        yield file


def test_zones_have_the_area_shore_and_water_that_numpy_and_geos_find(quillwort, zoned, raster):
    measures = quillwort.json("lake", zoned)
    lake = wingra.outline()
    depth = raster.read(1, masked=True)
    rows, columns = numpy.nonzero(~depth.mask)
    x, y = (numpy.asarray(one) for one in rasterio.transform.xy(raster.transform, rows, columns))
    depth = depth.data[rows, columns]
    epsg = int(measures["crs"].removeprefix("EPSG:"))
    assert {zone["code"] for zone in measures["zones"]} == set(ZONES)
    for zone in measures["zones"]:
        shape = shapely.intersection(box(zone["code"]), lake)
        area, _ = geodesic(shape)
        assert zone["area_m2"] == pytest.approx(area, rel=2e-5), zone["code"]
        edge = shapely.intersection(lake.boundary, box(zone["code"]))
        shore = shapes.GEOD.geometry_length(edge)
        assert zone["shore_m"] == pytest.approx(shore, rel=2e-3), zone["code"]
        inside = shapely.contains_xy(to_metres(shape, epsg), x, y)
        mean = float(depth[inside].mean())
        assert zone["mean_depth_m"] == pytest.approx(mean, rel=1e-2), zone["code"]
        assert zone["volume_m3"] == pytest.approx(zone["mean_depth_m"] * zone["area_m2"], rel=1e-6)
        band = measures["littoral"]
        held = (band["min_depth_m"] <= depth) & (depth <= band["max_depth_m"])
        share = float((inside & held).sum() / inside.sum())
        assert zone["littoral_area_m2"] / zone["area_m2"] == pytest.approx(share, abs=0.02)
        assert zone["rule"] == "no wake"
    whole = {"area_m2": "area_m2", "volume_m3": "volume_m3", "shore_m": "perimeter_m"}
    for part, all_of in whole.items():
        together = sum(zone[part] for zone in measures["zones"])
        assert together == pytest.approx(measures[all_of], rel=1e-4), part
    littoral = sum(zone["littoral_area_m2"] for zone in measures["zones"])
    assert littoral == pytest.approx(measures["littoral"]["area_m2"], rel=1e-4)


@pytest.mark.parametrize("year, codes", [(2009, "NE NW"), (2010, "NE NW SW"), (2020, "NE NW SE SW")])
def test_a_year_has_the_zones_of_its_time(quillwort, zoned, year, codes):
    measures = quillwort.json("lake", zoned, "--year", year)
    assert sorted(zone["code"] for zone in measures["zones"]) == codes.split()


def test_gdal_reads_the_depth_raster_and_it_holds_the_lake_s_water(quillwort, zoned, raster):
    measures = quillwort.json("lake", zoned)
    assert raster.crs.to_string() == measures["crs"]
    assert raster.nodata == -9999.0 and raster.dtypes == ("float32",)
    depth = raster.read(1, masked=True)
    cell = raster.transform.a * -raster.transform.e
    # cells on the shore count whole here and by their share in the program
    assert depth.count() * cell == pytest.approx(measures["area_m2"], rel=0.02)
    assert float(depth.mean()) == pytest.approx(measures["mean_depth_m"], rel=0.02)
    assert float(depth.max()) <= measures["max_depth_m"] + 1e-4


def test_gdal_reads_the_contours_and_they_lie_at_their_depth(quillwort, zoned, raster):
    path = quillwort.folder / "lines.geojson"
    quillwort("export", zoned, "--as", "contours", "-o", path)
    fields, lines = shapes.read(path)
    depths = fields["depth_m"]
    assert len(lines) > 3 and list(depths) == sorted(depths)
    assert fields["depth_ft"] == pytest.approx(depths / 0.3048, abs=1e-3)
    epsg = raster.crs.to_epsg()
    for line, depth in zip(lines, depths, strict=True):
        at = shapely.get_coordinates(to_metres(line, epsg))
        read = numpy.array([one[0] for one in raster.sample(at)])
        wet = read > raster.nodata
        # a cell holds its mean: within a cell of the line the bed differs by its slope
        assert float(numpy.abs(read[wet] - depth).mean()) < 0.1, depth


def test_the_book_itself_opens_in_gdal(quillwort, zoned):
    layers = {name for name, _ in pyogrio.list_layers(quillwort.folder / zoned)}
    assert {"zone", "lake_outline"} <= layers
    info, _, geometry, _ = pyogrio.raw.read(quillwort.folder / zoned, layer="zone")
    assert info["crs"] == "EPSG:4326" and len(geometry) == len(ZONES)
