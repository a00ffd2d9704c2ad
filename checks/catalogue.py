#!/usr/bin/env python3
"""Makes the tables in crates/survey/data from a plant list and the US EPA's open tables.

usage: catalogue.py PLANTS NWCA_FOLDER OUTPUT_FOLDER

PLANTS is a CSV of scientific_name, common_name, family, growth_form, origin, notes. NWCA_FOLDER
holds the tables of the US EPA National Wetland Condition Assessment as CSV: ccNat_2011_by_state,
cval_2016_by_region and native_status_2016_by_state (public domain). Coefficients of conservatism
come from those tables alone, never from the notes of PLANTS. No field of the output holds a comma,
a quotation mark or a line end, so a reader may split lines at commas. Standard library only; the
same input gives the same bytes.
"""

import csv
import re
import sys
from collections import Counter
from pathlib import Path

from catalogue_names import ADDED, COMMON_NAMES, DIFFERS, GENERA, GENUS_FORMS, NOTES, OLD_NAMES

MEMORY = "from memory"
LISTED = "7 CFR 360.200 federal noxious weeds (from memory)"
READ_IN_LTRM = "name and form: USGS LTRM species list appendix; the rest from memory"
NATIVE_2011 = "US EPA NWCA 2011 native status by state"
NATIVE_2016 = "US EPA NWCA 2016 native status by state"
TABLE_2011 = "nwca-2011-state"
TABLE_2016 = "nwca-2016-region"
FORMS = {
    "submersed", "floating-leaf", "free-floating", "emergent",
    "macroalga", "moss", "filamentous-alga",
}
# The assessment's words: native, introduced, adventive (native elsewhere in North America),
# cryptogenic (native and introduced kinds not told apart), undetermined.
ORIGINS = {"NAT": "native", "INTR": "introduced", "ADV": "introduced", "CRYP": "unknown"}


def rows(path):
    with open(path, encoding="utf-8-sig", newline="") as file:
        yield from csv.DictReader(file)


def folded(name):
    """The key two spellings of one name share: letters and digits, `ssp.` for `subsp.`."""
    name = re.sub(r"\b(subsp|subspecies)\b\.?", "ssp", name.replace("×", "x"), flags=re.I)
    return re.sub(r"[^a-z0-9]", "", name.lower())


def clean_forms(text, family):
    text = text.strip()
    if text == "macroalga (record apart)":
        return ["filamentous-alga"]
    if text == "free-floating (liverwort)":
        return ["free-floating", "moss"]
    text = text.replace("(shoreline)", "").replace("(record apart)", "")
    text = text.replace("free-floating (submersed)", "free-floating/submersed")
    forms = [one.strip() for one in text.split("/")]
    forms = ["floating-leaf" if one == "floating" else one for one in forms]
    unknown = set(forms) - FORMS
    if unknown or len(forms) > 2:
        sys.exit(f"growth form not understood: {text!r} in {family}")
    return forms


def read_plants(path):
    """The list cleaned: one name a row, rank and growth forms in fixed words, no authors."""
    taxa = []
    for row in rows(path):
        name = row["scientific_name"].strip()
        rank = "species"
        if name.endswith(" spp."):
            name, rank = name.removesuffix(" spp."), "genus"
        elif " x " in name:
            name, rank = name.replace(" x ", " × "), "hybrid"
        elif row["family"].startswith("("):
            rank = "aggregate"
        common = COMMON_NAMES.get(name)
        if common is None:
            common = [one.strip() for one in row["common_name"].split(";")]
        taxa.append({
            "scientific_name": name,
            "common_name": common[0],
            "other_names": common[1:],
            "family": row["family"].strip("()"),
            "forms": clean_forms(row["growth_form"], row["family"]),
            "rank": rank,
            "origin": row["origin"].strip(),
            "provenance": READ_IN_LTRM if "USGS LTRM" in row["notes"] else MEMORY,
        })
    for name, common, family, form, rank, origin in ADDED:
        taxa.append({
            "scientific_name": name,
            "common_name": common[0],
            "other_names": common[1:],
            "family": family,
            "forms": form.split("/"),
            "rank": rank,
            "origin": origin,
            "provenance": MEMORY,
        })
    return taxa


def add_genera(taxa):
    """A row for a genus, so that a plant can be named as far as it was told."""
    known = {one["scientific_name"] for one in taxa}
    # where people call a species by its genus, the species is meant
    known |= {name.capitalize() for one in taxa for name in [one["common_name"], *one["other_names"]]}
    genera = {}
    for one in taxa:
        if one["rank"] in ("species", "hybrid"):
            genera.setdefault(one["scientific_name"].split()[0], []).append(one)
    for genus, members in sorted(genera.items()):
        if genus in known:
            continue
        counts = Counter(form for one in members for form in one["forms"][:1])
        order = [form for form, _ in sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))]
        taxa.append({
            "scientific_name": genus,
            "common_name": GENERA.get(genus, f"{genus} species"),
            "other_names": [],
            "family": members[0]["family"],
            "forms": GENUS_FORMS.get(genus, order[:2]),
            "rank": "genus",
            # a genus is as native as all its members; else it is not settled
            "origin": simple_origin(members[0]["origin"])
            if len(members) > 1
            and len({simple_origin(one["origin"]) for one in members}) == 1
            and not any(one["scientific_name"] in DIFFERS for one in members)
            else "not settled below the genus",
            "provenance": "genus of the species in this list; common name from memory",
        })


def simple_origin(text):
    if "differs" in text or text in ("n/a", "not settled below the genus"):
        return "unknown"
    if text.startswith(("introduced", "treated as introduced")):
        return "introduced"
    if text.startswith("native"):
        return "native"
    sys.exit(f"origin not understood: {text!r}")


def origin_from_memory(one):
    """The rows of one taxon that stand on the list alone."""
    name, text = one["scientific_name"], one["origin"]
    if name in DIFFERS:
        default, exceptions = DIFFERS[name]
        found = [("US", default, "", f"{MEMORY}: differs by region")]
        for origin, states in exceptions.items():
            found += [(state, origin, "", MEMORY) for state in states.split()]
        return found
    if "federal noxious" in text:
        return [("US", "introduced", "federal noxious weed", LISTED)]
    return [("US", simple_origin(text), "", MEMORY)]


class Names:
    """From any spelling in the assessment's tables to the taxon of ours, or none."""

    def __init__(self, taxa):
        self.accepted, self.old = {}, {}
        for one in taxa:
            self.accepted[folded(one["scientific_name"])] = one["scientific_name"]
        for one in taxa:
            for name in one["old_names"]:
                key = folded(name)
                if key in self.accepted:
                    sys.exit(f"{name} is an old name and an accepted one")
                if key in self.old:
                    sys.exit(f"{name} is an old name of two taxa")
                self.old[key] = one["scientific_name"]

    def find(self, name):
        """Taxon and how good the match is: 0 accepted, 1 old name."""
        key = folded(name)
        if key in self.accepted:
            return self.accepted[key], 0
        if key in self.old:
            return self.old[key], 1
        return None, 2


def read_conservatism(folder, names):
    tables = (
        ("ccNat_2011_by_state.csv", "USDA_NAME", "NWCA_CC", TABLE_2011, "2011"),
        ("cval_2016_by_region.csv", "NWCA_NAME", "NWCA_CVAL", TABLE_2016, "2016"),
    )
    found = {}
    for file, name_column, value_column, table, version in tables:
        for row in rows(folder / file):
            taxon, match = names.find(row[name_column])
            value = (row[value_column] or "").strip()
            if taxon is None or not re.fullmatch(r"10|\d", value):
                continue
            key = (taxon, table, row["GEOG_ID"])
            entry = (match, row[name_column], int(value), version)
            # one row a taxon and region: the accepted name wins, then the alphabet
            if key not in found or entry[:2] < found[key][:2]:
                found[key] = entry
    lines = []
    for (taxon, table, region), (match, listed_as, value, version) in sorted(found.items()):
        lines.append([taxon, region, value, table, version, listed_as.lower() if match else ""])
    return lines


def read_origin(folder, names, taxa):
    found = {}
    for one in taxa:
        for region, origin, listed, source in origin_from_memory(one):
            found[one["scientific_name"], region] = (9, 9, "", origin, listed, source)
    tables = (
        (0, "native_status_2016_by_state.csv", "NWCA_NAME", NATIVE_2016),
        (1, "ccNat_2011_by_state.csv", "USDA_NAME", NATIVE_2011),
    )
    for order, file, name_column, source in tables:
        for row in rows(folder / file):
            taxon, match = names.find(row[name_column])
            status = ORIGINS.get((row["NWCA_NATSTAT"] or "").strip())
            region = (row["GEOG_ID"] or "").strip()
            if taxon is None or status is None or not re.fullmatch(r"[A-Z]{2}", region):
                continue
            listed = found[taxon, "US"][4]
            entry = (match, order, row[name_column], status, listed, source)
            key = (taxon, region)
            if key not in found or entry[:3] < found[key][:3]:
                found[key] = entry
    return [
        [taxon, region, origin, listed, source]
        for (taxon, region), (_, _, _, origin, listed, source) in sorted(found.items())
    ]


def write(path, header, lines):
    with open(path, "w", encoding="utf-8", newline="\n") as file:
        for line in [header, *lines]:
            fields = [str(field) for field in line]
            for field in fields:
                if re.search(r'[,"\r\n]', field):
                    sys.exit(f"{path.name}: a field may not hold a comma or a quote: {field!r}")
            file.write(",".join(fields) + "\n")


def main():
    if len(sys.argv) != 4:
        sys.exit(__doc__)
    plants, folder, output = (Path(one) for one in sys.argv[1:])
    taxa = read_plants(plants)
    add_genera(taxa)
    for table in (OLD_NAMES, NOTES, DIFFERS, COMMON_NAMES):
        strangers = set(table) - {one["scientific_name"] for one in taxa}
        if strangers:
            sys.exit(f"names that are not in the list: {sorted(strangers)}")
    for one in taxa:
        one["old_names"] = OLD_NAMES.get(one["scientific_name"], [])
        if one["old_names"]:
            one["provenance"] += "; old names from memory"
    for column in ("scientific_name", "common_name"):
        twice = [n for n, k in Counter(folded(one[column]) for one in taxa).items() if k > 1]
        if twice:
            sys.exit(f"{column} given to two taxa: {twice}")
    taxa.sort(key=lambda one: one["scientific_name"].lower())
    names = Names(taxa)
    write(
        output / "taxa.csv",
        ["scientific_name", "common_name", "other_names", "family", "growth_form", "second_form",
         "rank", "old_names", "note", "provenance"],
        [[one["scientific_name"], one["common_name"], ";".join(one["other_names"]), one["family"],
          one["forms"][0], one["forms"][1] if len(one["forms"]) > 1 else "", one["rank"],
          ";".join(one["old_names"]), NOTES.get(one["scientific_name"], ""), one["provenance"]]
         for one in taxa],
    )
    origin = read_origin(folder, names, taxa)
    write(output / "origin.csv", ["scientific_name", "region", "origin", "listed", "source"], origin)
    conservatism = read_conservatism(folder, names)
    write(
        output / "conservatism.csv",
        ["scientific_name", "region", "c", "table", "version", "listed_as"],
        conservatism,
    )
    print(f"taxa {len(taxa)}, origin {len(origin)}, conservatism {len(conservatism)}")


if __name__ == "__main__":
    main()
