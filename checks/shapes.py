"""Shapes of files in longitude and latitude and in metres, by GDAL, PROJ and GEOS."""

import json
import math

import numpy
import pyogrio.raw
import pyproj
import shapely

GEOD = pyproj.Geod(ellps="WGS84")


def read(path, **options):
    """Fields by name, and the shapes in longitude and latitude.

    All realisations of NAD83 and WGS 84 count as one datum, as agencies' files have it and as the
    program says it does: the projection is undone and nothing is shifted.
    """
    info, _, geometry, fields = pyogrio.raw.read(path, **options)
    shapes = [shapely.from_wkb(one) if one is not None else None for one in geometry]
    if info["crs"] != "EPSG:4326":
        undone = pyproj.Proj(info["crs"])
        shapes = [turned(one, undone, inverse=True) if one else None for one in shapes]
    return dict(zip(info["fields"], fields, strict=True)), shapes


def turned(shape, projection, inverse=False):
    """The shape with every vertex put through a projection, or back through it."""
    return shapely.transform(
        shape, lambda at: numpy.column_stack(projection(at[:, 0], at[:, 1], inverse=inverse))
    )


def features(path):
    """Properties and shapes of a GeoJSON file."""
    with open(path, encoding="utf-8") as file:
        collection = json.load(file)
    return [
        (one["properties"], shapely.geometry.shape(one["geometry"]))
        for one in collection["features"]
    ]


def to_metres(shape, epsg):
    """The shape in metres of a projected system."""
    return turned(shape, pyproj.Proj(epsg))


def geodesic(shape):
    """Area and length of all shores on the ellipsoid, islands left out and their shores in.

    Karney (2013), Algorithms for geodesics, Journal of Geodesy 87: 43-55, by PROJ.
    """
    area = length = 0.0
    for part in shapely.get_parts(shape):
        for ring, sign in [(part.exterior, 1), *((hole, -1) for hole in part.interiors)]:
            one, around = GEOD.geometry_area_perimeter(shapely.polygons(ring))
            area += sign * abs(one)
            length += around
    return area, length


def reach(shape, epsg, bearing):
    """The longest straight line over water in a direction, by cutting lines beside every vertex.

    Plane length over the mean scale of the projection in the lake; the bearing is from true north.
    """
    middle = shape.envelope.centroid
    factors = pyproj.Proj(epsg).get_factors(middle.x, middle.y)
    plane = to_metres(shape, epsg)
    upright = shapely.affinity.rotate(
        plane, bearing - factors.meridian_convergence, origin=(0, 0)
    )
    shapely.prepare(upright)
    _, south, _, north = upright.bounds
    x = numpy.unique(shapely.get_coordinates(upright)[:, 0])
    x = numpy.concatenate([x - 1e-6, x + 1e-6])
    lines = shapely.linestrings(
        numpy.stack(
            [numpy.column_stack([x, x]), numpy.tile([south - 1, north + 1], (len(x), 1))], axis=2
        )
    )
    pieces = shapely.get_parts(shapely.intersection(lines, upright))
    scale = math.sqrt(geodesic(shape)[0] / plane.area)
    return float(shapely.length(pieces).max()) * scale
