//! Map layers inside zips: a shapefile with its parts, or the KML of a KMZ.

use crate::archive::Archive;
use crate::fault::{Fault, Faults};
use crate::layer::{Layer, ReadOptions};
use crate::shapefile::{self, Parts};
use crate::{kml, text};

/// Reads the shapefile in a zip; of several the one whose name is wanted.
pub(crate) fn read_shapefile(
    file: &str,
    bytes: &[u8],
    options: &ReadOptions,
) -> Result<Layer, Faults> {
    let mut archive = Archive::open(file, bytes)?;
    let names = entries(&archive);
    let shapes: Vec<&String> = names.iter().filter(|name| ends(name, "shp")).collect();
    let wanted = options.layer.as_deref();
    let same = |name: &&&String| wanted.is_some_and(|layer| stem(name).eq_ignore_ascii_case(layer));
    let shp = match (&shapes[..], wanted) {
        ([], _) => {
            return Err(Fault::file(file, "a file ending in .shp in the zip")
                .found(names.join(", "))
                .hint("zip all parts of the shapefile: .shp, .dbf, .prj")
                .into());
        }
        ([only], None) => (*only).clone(),
        (several, _) => {
            let Some(found) = several.iter().find(same) else {
                let expected = wanted.map_or_else(
                    || "one layer in the zip, or the name of the one to read".to_owned(),
                    |layer| format!("a layer named `{layer}`"),
                );
                let layers: Vec<&str> = several.iter().map(|name| stem(name)).collect();
                return Err(Fault::file(file, expected)
                    .found(layers.join(", "))
                    .hint("name one of these with `--layer`")
                    .into());
            };
            (*found).clone()
        }
    };
    let beside = |ending: &str| {
        let stem = shp.rsplit_once('.').map_or(shp.as_str(), |(stem, _)| stem);
        let name = format!("{stem}.{ending}");
        names.iter().find(|other| other.eq_ignore_ascii_case(&name)).cloned()
    };
    let mut part = |ending: &str| beside(ending).map(|name| archive.read(&name)).transpose();
    let parts = Parts {
        dbf: part("dbf")?,
        prj: part("prj")?.map(|bytes| text::decode(&bytes).text.trim().to_owned()),
        cpg: part("cpg")?.map(|bytes| text::decode(&bytes).text),
    };
    let bytes = archive.read(&shp)?;
    let mut layer = shapefile::read(last(&shp), &bytes, &parts, options)?;
    layer.file = format!("{file}, {}", last(&shp));
    Ok(layer)
}

/// Reads the KML in a KMZ: `doc.kml`, else the first (OGC 07-147r2, annex C).
pub(crate) fn read_kmz(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<Layer, Faults> {
    let mut archive = Archive::open(file, bytes)?;
    let names = entries(&archive);
    let name = names
        .iter()
        .find(|name| name.eq_ignore_ascii_case("doc.kml"))
        .or_else(|| names.iter().find(|name| ends(name, "kml")));
    let Some(name) = name else {
        return Err(Fault::file(file, "a file ending in .kml in the zip")
            .found(names.join(", "))
            .hint("save the places again as KML or KMZ")
            .into());
    };
    let text = archive.read(name)?;
    let mut layer = kml::read(file, &text, options)?;
    if names.iter().filter(|name| ends(name, "kml")).count() > 1 {
        layer.warnings.push(format!("of several KML files in it `{name}` is read"));
    }
    Ok(layer)
}

/// The files in it, without what macOS leaves beside them.
fn entries(archive: &Archive<'_>) -> Vec<String> {
    let mut names = archive.names();
    names.retain(|name| !name.starts_with("__MACOSX/") && !last(name).starts_with("._"));
    names
}

fn last(name: &str) -> &str {
    name.rsplit(['/', '\\']).next().unwrap_or(name)
}

fn stem(name: &str) -> &str {
    let last = last(name);
    last.rsplit_once('.').map_or(last, |(stem, _)| stem)
}

fn ends(name: &str, ending: &str) -> bool {
    name.rsplit_once('.').is_some_and(|(_, end)| end.eq_ignore_ascii_case(ending))
}
