"""Lake Wingra, Wisconsin: outline and depths of the North Temperate Lakes Long-Term Ecological
Research programme, point-intercept survey of the Wisconsin Department of Natural Resources, 2022
(Gorsky et al.; open data, CC BY 4.0)."""

import csv

import shapes
from open_data import open_data

# The columns in the order of the published file.
SPECIES, _, NATIVES, SITE, LATITUDE, LONGITUDE, DEPTH, _, RAKE, ALGAE = range(10)
# Reasons as published, and ours.
REASONS = {
    "Non-Navigable (Plants)": "not-navigable-plants",
    "No Information": "no-information",
    "Temporary Obstacle": "temporary-obstacle",
    "Non-Navigable (Swim Area)": "swim-area",
}


def published_rows():
    """The agency's rows, each with its reason for not sampling."""
    with open(open_data("wingra-wi", "DNRsurvey.csv"), encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))[1:]
    with open(
        open_data("wingra-wi", "macrophyte_22_rake.csv"), encoding="utf-8-sig", newline=""
    ) as file:
        reasons = [row["comments"] for row in csv.DictReader(file)]
    assert len(rows) == len(reasons) == 543
    return [(*row, reason) for row, reason in zip(rows, reasons, strict=True)]


def outline():
    """The drawn shore in longitude and latitude; the file's first record has no geometry."""
    _, lakes = shapes.read(open_data("wingra-wi", "outline", "yld_study_lakes.shp"))
    (lake,) = [shape for shape in lakes if shape is not None]
    return lake


def make(quillwort):
    book = quillwort.book("Wingra", "--region", "WI")
    shore = open_data("wingra-wi", "outline", "yld_study_lakes.shp")
    quillwort("add", book, "outline", shore)
    depths = open_data("wingra-wi", "bathymetry.csv")
    quillwort("add", book, "depths", depths, "--crs", "EPSG:3071", "--unit", "m")
    published = open_data("wingra-wi", "DNRsurvey.csv")
    quillwort("plan", book, published, "--survey", "2022", "--layout", "given")
    table = quillwort.folder / "wingra-2022.csv"
    with open(table, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(
            ["site", "latitude", "longitude", "depth_ft", "rake", "total species",
             "native species", "outcome"]
        )
        for row in published_rows():
            writer.writerow(
                [row[SITE], row[LATITUDE], row[LONGITUDE], row[DEPTH], row[RAKE],
                 row[SPECIES] if row[DEPTH] else "", row[NATIVES] if row[DEPTH] else "", row[-1]]
            )
    quillwort("record", book, table, "--survey", "2022", "--new-scale", "--date", "2022-07-01")
    return book
