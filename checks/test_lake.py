"""The measures of a lake by PROJ, GEOS and SciPy."""

import json
import math

import numpy
import pyproj
import pytest
import scipy.interpolate
import shapely

import shapes
import wingra
from open_data import open_data
from shapes import geodesic, reach, to_metres

MATCHING = 20


def epsg(measures):
    return int(measures["crs"].removeprefix("EPSG:"))


def check_shore(measures, shape):
    area, shore = geodesic(shape)
    islands = sum(len(part.interiors) for part in shapely.get_parts(shape))
    assert measures["area_m2"] == pytest.approx(area, rel=1e-8)
    assert measures["perimeter_m"] == pytest.approx(shore, rel=1e-8)
    assert measures["island_count"] == islands
    development = shore / (2 * math.sqrt(math.pi * area))
    assert measures["shoreline_development"] == pytest.approx(development, rel=1e-8)


def test_lake_sunapee_is_as_large_as_proj_and_lakemorpho_say(quillwort):
    """Hollister & Stachelek (2017), F1000Research 6: 1718 (lakemorpho): 16,453,180 m2, one island.

    Their shore of 45,991.38 m and development of 3.1985 are lengths in an Albers plane; on the
    ellipsoid the same vertices give 45,342.07 m. Lengths depend on the projection, areas do not.
    """
    path = open_data("lake-sunapee-outline", "sunapee_wgs84.geojson")
    ((_, shape),) = shapes.features(path)
    book = quillwort.book("Sunapee", "--region", "NH")
    quillwort("add", book, "outline", path)
    measures = quillwort.json("lake", book)
    check_shore(measures, shape)
    assert measures["area_m2"] == pytest.approx(16_453_180, rel=1e-6)
    assert measures["perimeter_m"] == pytest.approx(45_342.07, abs=0.01)
    for name, bearing in (("n", 0), ("ne", 45), ("e", 90), ("se", 135)):
        expected = reach(shape, epsg(measures), bearing)
        assert measures["fetch_m"][name] == pytest.approx(expected, rel=1e-3), name
    farthest = max(reach(shape, epsg(measures), bearing) for bearing in range(0, 180, 15))
    assert farthest <= measures["max_length_m"] * (1 + 1e-4)


def new_hampshire():
    """Twenty outlines whose published area was made from these vertices: those with the most islands,
    then from the largest to the smallest."""
    path = open_data("nh-lake-outlines", "nh_lakes_wgs84.geojson")
    whole = [one for one in shapes.features(path) if one[0]["outline_matches_published"]]
    whole.sort(key=lambda one: (-one[0]["n_holes"], -one[0]["SurfaceAre"]))
    islands, ponds = whole[:8], sorted(whole[8:], key=lambda one: -one[0]["SurfaceAre"])
    step = len(ponds) // (MATCHING - len(islands))
    return islands + ponds[::step][: MATCHING - len(islands)]


def test_twenty_lakes_of_new_hampshire_are_as_large_as_published(quillwort):
    """National Lakes Morphometry Dataset of the US EPA (Hollister, quickmapr example data): area
    within 0.01 % of the published one, area and shore to eight digits of PROJ's."""
    lakes = new_hampshire()
    assert len(lakes) == MATCHING
    for number, (properties, shape) in enumerate(lakes):
        name = f"nh-{number}"
        path = quillwort.folder / f"{name}.geojson"
        feature = {"type": "Feature", "properties": {}, "geometry": shapely.geometry.mapping(shape)}
        path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))
        book = quillwort.book(name, "--region", "NH")
        quillwort("add", book, "outline", path)
        measures = quillwort.json("lake", book)
        check_shore(measures, shape)
        assert measures["area_m2"] == pytest.approx(properties["SurfaceAre"], rel=1e-4)


def test_the_shore_of_lake_wingra_is_proj_s(quillwort, wingra_book):
    """North Temperate Lakes LTER, drawn outline: 1,256,739 m2 in the file's plane."""
    measures = quillwort.json("lake", wingra_book)
    shape = wingra.outline()
    check_shore(measures, shape)
    assert measures["area_m2"] == pytest.approx(1_256_739, rel=2e-3)
    assert measures["fetch_m"]["e"] == pytest.approx(reach(shape, epsg(measures), 90), rel=1e-3)


@pytest.fixture(scope="module")
def wingra_lattice():
    """Depths of the fitted surface on a lattice of two metres within the drawn shore, by SciPy."""
    table = numpy.loadtxt(
        open_data("wingra-wi", "bathymetry.csv"), delimiter=",", skiprows=1, encoding="utf-8-sig"
    )
    surface = scipy.interpolate.LinearNDInterpolator(table[:, :2], table[:, 2])
    nearest = scipy.interpolate.NearestNDInterpolator(table[:, :2], table[:, 2])
    shape = to_metres(wingra.outline(), 3071)
    west, south, east, north = shape.bounds
    x, y = numpy.meshgrid(numpy.arange(west, east, 2.0), numpy.arange(south, north, 2.0))
    x, y = x.ravel(), y.ravel()
    inside = shapely.contains_xy(shape, x, y)
    x, y = x[inside], y[inside]
    depth = surface(x, y)
    outside = numpy.isnan(depth)
    depth[outside] = nearest(x[outside], y[outside])
    return numpy.maximum(depth, 0.0)


def test_the_volume_of_lake_wingra_is_the_surface_s(quillwort, wingra_book, wingra_lattice):
    """The published surface of 50,262 depths; over its own grid it holds 2.93 million m3 (sum of the
    cells of 25 m2, heights above the water taken as nil)."""
    measures = quillwort.json("lake", wingra_book)
    mean = float(wingra_lattice.mean())
    assert measures["mean_depth_m"] == pytest.approx(mean, rel=2e-3)
    assert measures["volume_m3"] == pytest.approx(mean * measures["area_m2"], rel=2e-3)
    assert measures["volume_m3"] == pytest.approx(2.93e6, rel=5e-3)
    assert measures["mean_depth_m"] * measures["area_m2"] == pytest.approx(
        measures["volume_m3"], rel=1e-12
    )


def test_the_areas_below_each_depth_of_lake_wingra_are_the_surface_s(
    quillwort, wingra_book, wingra_lattice
):
    measures = quillwort.json("lake", wingra_book)
    rows = measures["hypsography"]
    assert len(rows) > 10
    for row in rows:
        # a depth a person reads in feet may lie a rounding above or below a cell's
        share = float((wingra_lattice >= row["depth_m"] - 1e-9).mean())
        below = float(numpy.maximum(wingra_lattice - row["depth_m"], 0.0).mean())
        whole = measures["area_m2"]
        assert row["area_m2"] == pytest.approx(share * whole, abs=4e-3 * whole), row
        assert row["volume_below_m3"] == pytest.approx(below * whole, abs=4e-3 * whole), row
    assert rows[0]["area_m2"] == pytest.approx(measures["area_m2"], rel=1e-12)
    assert rows[0]["volume_below_m3"] == pytest.approx(measures["volume_m3"], rel=1e-12)
    littoral = measures["littoral"]
    least, most = littoral["min_depth_m"], littoral["max_depth_m"]
    share = float(((wingra_lattice >= least) & (wingra_lattice <= most)).mean())
    assert littoral["area_m2"] == pytest.approx(share * measures["area_m2"], rel=1e-2)


def test_contours_of_lake_wingra_bound_the_areas_the_program_finds_between_them(quillwort):
    """North Temperate Lakes LTER, contours digitised from the state's lake map (0, 2, 3, 6, 12 ft):
    the area below each is that of the drawn rings."""
    fields, rings = shapes.read(
        open_data("wingra-wi", "bathymetry-contours", "wingra-contours-all.shp")
    )
    depths = numpy.asarray(fields["Depth_ft"], dtype=float)
    shore = max((one for one, d in zip(rings, depths, strict=True) if d == 0), key=lambda s: s.area)
    book = quillwort.book("Contours", "--region", "WI")
    path = quillwort.folder / "border.geojson"
    shore = shapely.polygons(shapely.get_exterior_ring(shapely.get_parts(shore)[0]))
    feature = {"type": "Feature", "properties": {}, "geometry": shapely.geometry.mapping(shore)}
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))
    quillwort("add", book, "outline", path)
    deeper = [
        {
            "type": "Feature",
            "properties": {"depth_ft": float(depth)},
            "geometry": shapely.geometry.mapping(ring),
        }
        for ring, depth in zip(rings, depths, strict=True)
        if depth > 0
    ]
    lines = quillwort.folder / "contours.geojson"
    lines.write_text(json.dumps({"type": "FeatureCollection", "features": deeper}))
    quillwort("add", book, "contours", lines, "--unit", "ft", "--depth-column", "depth_ft")
    measures = quillwort.json("lake", book)
    found = {round(row["depth_m"] / 0.3048): row["area_m2"] for row in measures["hypsography"]}
    whole = geodesic(shore)[0]
    for feet in (2, 3, 6):
        within = shapely.unary_union(
            [ring for ring, depth in zip(rings, depths, strict=True) if depth >= feet]
        )
        drawn = geodesic(within.intersection(shore))[0]
        assert found[feet] == pytest.approx(drawn, abs=5e-3 * whole), f"{feet} ft"


def test_zones_of_the_demo_lake_are_proj_s(quillwort, demo):
    measures = quillwort.json("lake", demo)
    ((_, lake),) = shapes.features(demo.parent / "files" / "outline.geojson")
    zones = {
        one["code"]: shape
        for one, shape in shapes.features(demo.parent / "files" / "zones.geojson")
    }
    assert len(measures["zones"]) == len(zones) >= 10
    for zone in measures["zones"]:
        area, _ = geodesic(shapely.intersection(zones[zone["code"]], lake))
        # one scale for the lake: within a hundred-thousandth of each zone's own
        assert zone["area_m2"] == pytest.approx(area, rel=1e-5), zone["code"]


def test_the_working_system_is_the_utm_zone_of_the_lake(quillwort, wingra_book):
    middle = wingra.outline().envelope.centroid
    area = pyproj.aoi.AreaOfInterest(middle.x, middle.y, middle.x, middle.y)
    (expected,) = pyproj.database.query_utm_crs_info("WGS 84", area)
    assert quillwort.json("lake", wingra_book)["crs"] == f"EPSG:{expected.code}"
