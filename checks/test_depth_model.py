"""The bed between soundings against SciPy: the same points, the same triangulation, plane by plane."""

import json

import numpy
import pytest
import rasterio
import scipy.interpolate
import scipy.spatial
import shapely

MIDDLE = numpy.array([500_000.0, 4_980_000.0])
RADIUS = 600.0


def densified(ring, step):
    """Every side of a ring in equal parts no longer than a step."""
    parts = []
    for start, end in zip(ring, numpy.roll(ring, -1, axis=0), strict=True):
        count = int(numpy.ceil(numpy.hypot(*(end - start)) / step))
        parts.append(start + (end - start) * numpy.arange(count)[:, None] / count)
    return numpy.concatenate(parts)


def round_lake(program, tmp_path):
    """A round lake whose bed is tilted: its measures, ring, soundings, and its model as cells."""
    draw = numpy.random.default_rng(4)
    turn = numpy.linspace(0, 2 * numpy.pi, 181)[:-1]
    ring = MIDDLE + RADIUS * numpy.column_stack([numpy.cos(turn), numpy.sin(turn)])
    ring = ring.round(3)
    out, angle = 0.97 * RADIUS * numpy.sqrt(draw.random(600)), 2 * numpy.pi * draw.random(600)
    places = (MIDDLE + numpy.column_stack([out * numpy.cos(angle), out * numpy.sin(angle)])).round(3)
    depths = (4 + (places - MIDDLE) @ [0.003, 0.002]).round(3)
    shore = {"type": "Polygon", "coordinates": [[*ring.tolist(), ring[0].tolist()]]}
    (tmp_path / "shore.geojson").write_text(json.dumps(shore))
    rows = numpy.column_stack([places, depths])
    numpy.savetxt(tmp_path / "d.csv", rows, "%.3f", ",", header="x,y,depth_m", comments="")
    book = program.book("round", "--region", "WI")
    program("add", book, "outline", "shore.geojson", "--crs", "EPSG:32615")
    program("add", book, "depths", "d.csv", "--crs", "EPSG:32615")
    program("export", book, "--as", "geotiff", "-o", "bed.tif")
    with rasterio.open(tmp_path / "bed.tif") as file:
        bed, transform = file.read(1, masked=True), file.transform
    return program.json("lake", book), ring, places, depths, bed, transform


def test_between_soundings_the_bed_is_scipy_s_plane_of_three(quillwort, tmp_path):
    """Planes predict a left-out sounding best here."""
    measures, ring, places, depths, bed, transform = round_lake(quillwort.at(tmp_path), tmp_path)
    assert measures["interpolation"] == "linear"
    shore = densified(ring, max(2 * transform.a, measures["perimeter_m"] / 20_000))
    surface = scipy.interpolate.LinearNDInterpolator(
        numpy.concatenate([places, shore]) - MIDDLE, numpy.concatenate([depths, numpy.zeros(len(shore))])
    )
    at = numpy.column_stack(rasterio.transform.xy(transform, *numpy.nonzero(~bed.mask))) - MIDDLE
    # cells on the shore hold the mean of their water
    whole = numpy.hypot(*at.T) < RADIUS - 2 * transform.a
    assert whole.sum() > 10_000
    # the raster holds 32-bit numbers
    assert numpy.abs(bed.compressed() - surface(at))[whole].max() == pytest.approx(0, abs=1e-6)


def test_the_nearest_depth_is_as_far_as_scipy_s_tree_has_it(quillwort, tmp_path):
    """Every cell's distance to its nearest sounding, weighted with the water in the cell by GEOS."""
    measures, ring, places, _, bed, transform = round_lake(quillwort.at(tmp_path), tmp_path)
    side, lake = transform.a, shapely.Polygon(ring)
    shapely.prepare(lake)
    at = numpy.column_stack(rasterio.transform.xy(transform, *numpy.nonzero(~bed.mask)))
    cells = shapely.box(*(at - side / 2).T, *(at + side / 2).T)
    water = numpy.where(shapely.contains(lake, cells), 1.0, 0.0)
    cut = water == 0
    water[cut] = shapely.area(shapely.intersection(cells[cut], lake)) / side**2
    far, _ = scipy.spatial.cKDTree(places).query(at)
    order = numpy.argsort(far, kind="stable")
    share = numpy.cumsum(water[order]) / water.sum()
    found = measures["datum_distance"]
    assert found["mean_m"] == pytest.approx(numpy.average(far, weights=water), rel=1e-4)
    assert found["median_m"] == pytest.approx(far[order][numpy.searchsorted(share, 0.5)], rel=1e-3)
    assert found["p95_m"] == pytest.approx(far[order][numpy.searchsorted(share, 0.95)], rel=1e-3)
    assert found["most_m"] == pytest.approx(far.max(), rel=1e-4)
    assert scipy.spatial.cKDTree(places).query(found["farthest"])[0] == pytest.approx(far.max(), rel=1e-4)
    edges = [band["from_m"] for band in found["bands"]]
    band_of = numpy.searchsorted(edges, far, side="right") - 1
    ground = measures["area_m2"] / water.sum()
    for number, band in enumerate(found["bands"]):
        expected = water[band_of == number].sum() * ground
        assert band["area_m2"] == pytest.approx(expected, rel=1e-3), band


def test_the_slope_of_each_range_of_depths_is_horn_s_on_the_same_cells(quillwort, tmp_path):
    """Horn (1981), third-order finite differences, by NumPy on the exported cells."""
    measures, ring, _, _, bed, transform = round_lake(quillwort.at(tmp_path), tmp_path)
    side, lake = transform.a, shapely.Polygon(ring)
    rows, columns = numpy.indices(bed.shape)
    at = numpy.column_stack(rasterio.transform.xy(transform, rows.ravel(), columns.ravel()))
    inside = shapely.contains(lake, shapely.box(*(at - side / 2).T, *(at + side / 2).T)).reshape(bed.shape)
    z = numpy.where(inside, bed.filled(numpy.nan), numpy.nan).astype(float)

    def near(down, right):
        return z[1 + down : z.shape[0] - 1 + down, 1 + right : z.shape[1] - 1 + right]

    east = sum(w * (near(d, 1) - near(d, -1)) for d, w in ((-1, 1), (0, 2), (1, 1)))
    south = sum(w * (near(1, r) - near(-1, r)) for r, w in ((-1, 1), (0, 2), (1, 1)))
    # not-a-number where one of the nine is cut by the shore
    slope = 100 * numpy.hypot(east, south) / (8 * side) + 0 * near(0, 0)
    known = ~numpy.isnan(slope)
    slope, depth = slope[known], near(0, 0)[known]
    assert measures["slope"]["cells"] == pytest.approx(len(slope), abs=2)
    assert measures["slope"]["mean_percent"] == pytest.approx(slope.mean(), rel=1e-3)
    checked = 0
    for band in measures["slope_by_depth"]:
        part = slope[(band["from_m"] <= depth) & (depth < (band["to_m"] or numpy.inf))]
        if len(part) > 100:
            assert band["slope"]["cells"] == pytest.approx(len(part), abs=3), band
            assert band["slope"]["mean_percent"] == pytest.approx(part.mean(), rel=2e-3), band
            checked += 1
    assert checked > 2
    littoral = measures["littoral"]
    part = slope[(littoral["min_depth_m"] <= depth) & (depth <= littoral["max_depth_m"])]
    assert littoral["slope"]["mean_percent"] == pytest.approx(part.mean(), rel=2e-3)
