//! Files into the lake: each is read whole, checked against the lake, and stored in one save or
//! not at all.

mod depths;
pub(crate) mod geopackage;
mod outline;
mod places;
mod raster;
mod shapes;
mod sketch;
mod water;

use crate::error::{Error, Result};
use crate::place;
use crate::species::SpeciesList;
use crate::views::{AddView, SkippedRowView};
use exchange::{Feature, Layer, Value};
use geo::BoundingRect;
use geo_types::{Geometry, MultiPolygon, Rect};
use lakebed::Crs;
use lakebook::LakeBook;
use std::path::Path;
use survey::TaxonId;
use units::LengthUnit;

/// What the user says about a file.
#[derive(Debug, Clone, Default)]
pub struct AddOptions {
    /// Layer within the file, or the feature to take, by name.
    pub layer: Option<String>,
    /// Reference system, when the file does not say.
    pub crs: Option<String>,
    /// Unit of depths.
    pub unit: Option<LengthUnit>,
    /// Column that holds the depth.
    pub depth_column: Option<String>,
    /// Column that holds the code.
    pub code_column: Option<String>,
    /// Column that holds the name.
    pub name_column: Option<String>,
    /// Elevation of the water surface, for a raster of bed elevations, in its own unit.
    pub surface: Option<f64>,
    /// How deep the transducer hung below the water, metres.
    pub transducer: Option<f64>,
    /// Level of the water on the sounding day above the reference level, metres.
    pub water_level: Option<f64>,
    /// Positions that look to be a known slip are corrected.
    pub fix: bool,
    /// The file's coordinates are pixels of this background.
    pub on: Option<String>,
    /// Store nothing.
    pub preview: bool,
    /// Hand out the shapes of the file, for a picture of where it falls.
    pub sketch: bool,
}

/// What a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AddKind {
    /// Shoreline with islands.
    Outline,
    /// Soundings.
    Depths,
    /// Lines or rings of equal depth.
    Contours,
    /// Named parts of the lake.
    Zones,
    /// Parts of zones.
    SubAreas,
    /// Named places.
    Landmarks,
    /// What was treated.
    Treatments,
    /// Names for the lake's list of species.
    Species,
}

impl AddKind {
    /// All of them, in the order a lake is made.
    pub const ALL: [Self; 8] = [
        Self::Outline,
        Self::Depths,
        Self::Contours,
        Self::Zones,
        Self::SubAreas,
        Self::Landmarks,
        Self::Treatments,
        Self::Species,
    ];

    /// The one of this word.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// The word on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Outline => "outline",
            Self::Depths => "depths",
            Self::Contours => "contours",
            Self::Zones => "zones",
            Self::SubAreas => "sub-areas",
            Self::Landmarks => "landmarks",
            Self::Treatments => "treatments",
            Self::Species => "species",
        }
    }
}

/// Adds a file to the lake.
///
/// # Errors
/// Every fault of the file at once; nothing is stored then.
pub fn add(
    book: &mut LakeBook,
    kind: AddKind,
    path: &Path,
    options: &AddOptions,
) -> Result<AddView> {
    let mut view = match kind {
        AddKind::Outline => outline::add(book, path, options),
        AddKind::Depths if raster::is_raster(path)? => raster::add(book, path, options),
        AddKind::Depths => depths::soundings(book, path, options),
        AddKind::Contours => depths::contours(book, path, options),
        AddKind::Zones => shapes::zones(book, path, options),
        AddKind::SubAreas => shapes::sub_areas(book, path, options),
        AddKind::Landmarks => places::landmarks(book, path, options),
        AddKind::Treatments => shapes::treatments(book, path, options),
        AddKind::Species => species(book, path, options),
    }?;
    kind.key().clone_into(&mut view.kind);
    view.file = file_name(path);
    view.preview = options.preview;
    if options.preview {
        view.stored = 0;
    }
    let ground = crate::ground::Ground::shore_of(book)?;
    if !ground.crs.is_geographic() {
        view.place = view.extent.and_then(|extent| in_metres(&ground.crs, extent));
        sketch::to_metres(&mut view.shapes, &ground.crs);
        sketch::cells_to_metres(&mut view, &ground.crs);
    }
    Ok(view)
}

/// An extent in degrees as one in metres of the working system.
fn in_metres(crs: &Crs, [west, south, east, north]: [f64; 4]) -> Option<[f64; 4]> {
    let corners = Rect::new((west, south), (east, north)).to_polygon();
    let rect = crs.project_geometry(&corners).ok()?.bounding_rect()?;
    Some([rect.min().x, rect.min().y, rect.max().x, rect.max().y])
}

pub(crate) fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned())
}

/// Faults of one file, listed at once.
#[derive(Debug, Default)]
struct FaultList {
    lines: Vec<String>,
    hints: Vec<String>,
}

impl FaultList {
    fn push(&mut self, line: String, hint: &str) {
        self.lines.push(line);
        if !self.hints.iter().any(|known| known == hint) {
            self.hints.push(hint.to_owned());
        }
    }

    fn close(self) -> Result<()> {
        if self.lines.is_empty() {
            return Ok(());
        }
        let rest = self.lines.len().saturating_sub(20);
        let mut text = self.lines.into_iter().take(20).collect::<Vec<_>>().join("\n");
        if rest > 0 {
            text.push_str(&format!("\nand {rest} more"));
        }
        Err(Error::input(text).hint(self.hints.join("\nhint: ")))
    }
}

/// A layer read and put where it belongs.
pub(crate) struct Placed {
    pub(crate) layer: Layer,
    pub(crate) crs: Crs,
    /// Geometries in longitude and latitude, in the order of the features.
    pub(crate) shapes: Vec<Geometry<f64>>,
}

/// Reads a layer, refuses it when it falls outside the lake's surroundings, and turns it to
/// longitude and latitude.
fn read_placed(
    book: &LakeBook,
    path: &Path,
    options: &AddOptions,
    near_lake: bool,
) -> Result<Placed> {
    let ground = crate::ground::Ground::shore_of(book)?;
    if let Some(name) = &options.on {
        return crate::background::read_traced(book, &ground, path, name);
    }
    let outline = ground.outline.as_ref().filter(|_| near_lake);
    let around = place::surroundings(outline, &ground.lake.region);
    let name = layer_name(path, options, near_lake)?;
    let (mut layer, crs) =
        place::read_slipped(path, name, options.crs.as_deref(), around.as_ref())?;
    let native: Vec<_> =
        layer.features.iter().flat_map(|feature| place::coordinates(&feature.geometry)).collect();
    let is_log = exchange::FileKind::of_file(path)? == exchange::FileKind::Nmea;
    let slip = if is_log {
        // a receiver makes no slip of the pen, but it was elsewhere before the boat was launched
        place::leave_out_far(&mut layer, &native, &crs, around.as_ref())?;
        None
    } else {
        place::slip(&layer.file, &native, &crs, around.as_ref(), options.fix)?
    };
    let shapes = layer
        .features
        .iter()
        .map(|feature| match &slip {
            Some(slip) => slip.mend(&layer.file, &feature.geometry, &crs, around.as_ref()),
            None => place::to_lon_lat(&layer.file, &feature.geometry, &crs),
        })
        .collect::<Result<_>>()?;
    if let Some(slip) = slip {
        layer.warnings.push(slip.words);
    }
    Ok(Placed { layer, crs, shapes })
}

/// The name of the layer to read. For an outline `--layer` names the lake within its layer, unless
/// the file holds several layers.
fn layer_name<'a>(
    path: &Path,
    options: &'a AddOptions,
    near_lake: bool,
) -> Result<Option<&'a str>> {
    let named = options.layer.as_deref();
    if near_lake || named.is_none() {
        return Ok(named);
    }
    let is_layer = match exchange::FileKind::of_file(path)? {
        exchange::FileKind::Sqlite => lakebook::foreign::layers(path)?
            .iter()
            .any(|layer| named.is_some_and(|named| layer.eq_ignore_ascii_case(named))),
        // a zip of several shapefiles is read by name or not at all
        exchange::FileKind::ZippedShapefile => {
            let options =
                exchange::ReadOptions { layer: options.layer.clone(), ..Default::default() };
            exchange::read_layer(path, &options).is_ok()
        }
        _ => false,
    };
    Ok(named.filter(|_| is_layer))
}

fn skipped(one: &exchange::Skipped) -> SkippedRowView {
    SkippedRowView { row: one.row, reason: one.reason.clone() }
}

impl Placed {
    fn view(&self, options: &AddOptions) -> AddView {
        let rect =
            self.shapes.iter().filter_map(BoundingRect::bounding_rect).reduce(|a: Rect<f64>, b| {
                let (low, high) = (a.min(), a.max());
                Rect::new(
                    (low.x.min(b.min().x), low.y.min(b.min().y)),
                    (high.x.max(b.max().x), high.y.max(b.max().y)),
                )
            });
        AddView {
            crs: self.crs.label(),
            read: self.layer.features.len() + self.layer.skipped.len(),
            extent: rect.map(|rect| [rect.min().x, rect.min().y, rect.max().x, rect.max().y]),
            skipped: self.layer.skipped.iter().map(skipped).collect(),
            warnings: self.layer.warnings.clone(),
            shapes: if options.sketch { sketch::thinned(&self.shapes) } else { Vec::new() },
            ..AddView::default()
        }
    }
}

/// An attribute as text by the first of several names that is there and not empty.
fn text_of(feature: &Feature, named: Option<&str>, usual: &[&str]) -> Option<String> {
    let names = named.into_iter().chain(usual.iter().copied());
    names
        .filter_map(|name| feature.attribute(name))
        .filter(|value| !matches!(value, Value::Null))
        .map(|value| value.to_string().trim().to_owned())
        .find(|text| !text.is_empty())
}

/// The areas of a geometry; none when it has no area.
fn areas(geometry: &Geometry<f64>) -> Option<MultiPolygon<f64>> {
    match geometry {
        Geometry::Polygon(polygon) => Some(MultiPolygon(vec![polygon.clone()])),
        Geometry::MultiPolygon(polygons) => Some(polygons.clone()),
        Geometry::GeometryCollection(all) => {
            let parts: Vec<_> = all.iter().filter_map(areas).flat_map(|many| many.0).collect();
            (!parts.is_empty()).then_some(MultiPolygon(parts))
        }
        _ => None,
    }
}

/// Names for the lake's list, one a line, or the first column of a table.
fn species(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let table = exchange::text::Table::read(path)?;
    let lake = book.lake()?;
    let mut list = SpeciesList::new(&lake, book.taxa()?);
    let mut view = AddView { read: table.rows.len(), crs: String::new(), ..AddView::default() };
    let heads = ["species", "scientific_name", "scientific name", "name", "taxon", "common_name"];
    let head = &table.rows[0];
    let column =
        options.name_column.as_deref().into_iter().chain(heads).find_map(|name| {
            head.cells.iter().position(|cell| cell.trim().eq_ignore_ascii_case(name))
        });
    for row in table.rows.iter().skip(usize::from(column.is_some())) {
        let name = row.cell(column.unwrap_or(0)).trim();
        if name.is_empty() {
            continue;
        }
        if let Some(known) = list.find(name) {
            let reason = format!("`{name}` is on the list already, as {}", known.code);
            view.skipped.push(SkippedRowView { row: row.number, reason });
            continue;
        }
        if !SpeciesList::catalogued(name) {
            view.warnings.push(format!(
                "row {}: `{name}` is not in the catalogue; it is added as it stands, its origin unknown",
                row.number
            ));
        }
        list.add(name, TaxonId(book.new_id()));
    }
    view.stored = list.added().count();
    if !options.preview {
        let note = format!("added {} species from {}", view.stored, file_name(path));
        book.transact(&note, |writer| list.added().try_for_each(|taxon| writer.put_taxon(taxon)))?;
    }
    Ok(view)
}
