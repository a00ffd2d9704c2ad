"""The bed between soundings against SciPy: the same points, the same triangulation, plane by plane."""

import json

import numpy
import pytest
import rasterio
import scipy.interpolate

MIDDLE = numpy.array([500_000.0, 4_980_000.0])
RADIUS = 600.0


def densified(ring, step):
    """Every side of a ring in equal parts no longer than a step."""
    parts = []
    for start, end in zip(ring, numpy.roll(ring, -1, axis=0), strict=True):
        count = int(numpy.ceil(numpy.hypot(*(end - start)) / step))
        parts.append(start + (end - start) * numpy.arange(count)[:, None] / count)
    return numpy.concatenate(parts)


def test_between_soundings_the_bed_is_scipy_s_plane_of_three(quillwort, tmp_path):
    """A round lake whose bed is tilted, for which planes predict a left-out sounding best."""
    program = quillwort.at(tmp_path)
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
    measures = program.json("lake", book)
    assert measures["interpolation"] == "linear"
    program("export", book, "--as", "geotiff", "-o", "bed.tif")
    with rasterio.open(tmp_path / "bed.tif") as file:
        bed, transform = file.read(1, masked=True), file.transform
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
