"""Sites of a point grid, counted and placed by GEOS and PROJ."""

import math

import numpy
import pyproj
import pytest
import shapely

import shapes
import wingra

UTM = 32616


def in_metres(sites):
    x, y = pyproj.Proj(UTM)([one["lon"] for one in sites], [one["lat"] for one in sites])
    return numpy.column_stack([x, y])


def lattice(shape, origin, spacing, rotation):
    """Every point of the endless grid that lies in the shape."""
    angle = math.radians(rotation)
    along = numpy.array([math.cos(angle), -math.sin(angle)]) * spacing
    across = numpy.array([math.sin(angle), math.cos(angle)]) * spacing
    west, south, east, north = shape.bounds
    count = math.ceil(math.hypot(east - west, north - south) / spacing) + 1
    i, j = numpy.meshgrid(numpy.arange(-count, count + 1), numpy.arange(-count, count + 1))
    points = origin + i.reshape(-1, 1) * along + j.reshape(-1, 1) * across
    return points[shapely.contains_xy(shape, points[:, 0], points[:, 1])]


@pytest.mark.parametrize(("spacing", "rotation"), [(70, 0), (50, 30), (25, 0), (63.615, 12)])
def test_a_grid_holds_every_point_of_the_lattice_in_the_lake_and_no_other(
    quillwort, wingra_book, spacing, rotation
):
    plan = quillwort.json(
        "plan", wingra_book, "--survey", f"grid-{spacing}-{rotation}", "--layout", "point-grid",
        "--spacing", f"{spacing}m", "--rotation", rotation,
    )
    said = {one["name"]: one["value"] for one in plan["parameters"]}
    origin = numpy.array([float(said["origin_x_m"]), float(said["origin_y_m"])])
    shape = shapes.to_metres(wingra.outline(), UTM)
    expected = lattice(shape, origin, spacing, rotation)
    laid = in_metres(plan["sites"])
    assert len(laid) == len(expected)
    # PROJ puts every site back on its place in the working system to a tenth of a millimetre
    tree = shapely.STRtree(shapely.points(expected))
    _, apart = tree.query_nearest(shapely.points(laid), return_distance=True, all_matches=False)
    assert apart.max() < 1e-4
    # a grid with random origin has A/s2 points on average: Cochran (1977), Sampling Techniques,
    # ch. 8 (from memory); this one may part from it by what the shore cuts
    assert len(laid) == pytest.approx(shape.area / spacing**2, abs=shape.length / spacing / 4)


def test_a_grid_within_a_depth_has_no_deeper_site(quillwort, wingra_book):
    plan = quillwort.json(
        "plan", wingra_book, "--survey", "shallow", "--layout", "point-grid", "--spacing", "40m",
        "--max-depth", "8ft",
    )
    depths = [one["depth_m"] for one in plan["sites"]]
    assert len(depths) > 100
    assert max(depths) <= 8 * 0.3048 + 1e-9


def test_a_number_of_sites_gives_the_nearest_number_a_grid_can_have(quillwort, wingra_book):
    plan = quillwort.json(
        "plan", wingra_book, "--survey", "hundred", "--layout", "point-grid", "--sites", 100
    )
    assert len(plan["sites"]) == pytest.approx(100, abs=2)


def test_an_agency_s_points_keep_their_numbers_and_places(quillwort, wingra_book):
    rows = wingra.published_rows()
    export = quillwort.folder / "given"
    quillwort("export", wingra_book, "--as", "geojson", "--survey", "2022", "-o", export)
    laid = {
        str(one["site"]): shape
        for one, shape in shapes.features(export / "2022.geojson")
        if shape.geom_type == "Point"
    }
    assert len(laid) == len(rows) == 543
    for row in rows:
        at = laid[row[wingra.SITE]]
        assert (at.x, at.y) == pytest.approx(
            (float(row[wingra.LONGITUDE]), float(row[wingra.LATITUDE])), abs=1e-7
        )


def test_a_site_of_a_sub_area_lies_where_a_circle_has_most_room(quillwort, demo_copy, demo):
    """The pole of inaccessibility, beside GEOS's largest inscribed circle."""
    plan = quillwort.json("plan", demo_copy, "--survey", "parts", "--layout", "sub-areas")
    epsg = int(quillwort.json("lake", demo_copy)["crs"].removeprefix("EPSG:"))
    parts = {
        one["code"]: shapes.to_metres(shape, epsg)
        for one, shape in shapes.features(demo.parent / "files" / "sub-areas.geojson")
    }
    assert len(plan["sites"]) == len(parts)
    forth = pyproj.Proj(epsg)
    for site in plan["sites"]:
        part = parts[site["code"]]
        at = shapely.Point(*forth(site["lon"], site["lat"]))
        assert part.contains(at), site["code"]
        # an outline in pieces has its largest circle in one of them
        room = shapely.maximum_inscribed_circle(part, tolerance=0.05).length
        assert part.boundary.distance(at) == pytest.approx(room, abs=1.0), site["code"]
