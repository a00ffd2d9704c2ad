//! The keys of a GeoTIFF (OGC 19-008r4, 2019, chapter 7 and annexes B and C).

use super::{Place, Tags, affine};
use crate::fault::Faults;
use crate::layer::LayerCrs;
use tiff::tags::Tag;
use units::LengthUnit;

/// Kind of the coordinate system (`GTModelTypeGeoKey`).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Model {
    Projected,
    Geographic,
}

/// What a value stands for (`GTRasterTypeGeoKey`).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sampling {
    /// The area of its cell.
    Area,
    /// The point at its centre.
    Point,
}

/// What the keys say.
#[derive(Debug)]
pub(super) struct Keys {
    pub(super) model: Option<Model>,
    sampling: Sampling,
    code: Option<u32>,
    /// The system in well-known text, which one maker puts into a citation.
    wkt: Option<String>,
    /// What the file calls the system.
    pub(super) citation: Option<String>,
    pub(super) vertical_unit: Option<LengthUnit>,
}

impl Keys {
    pub(super) fn read(tags: &mut Tags<'_, '_>) -> Self {
        const MODEL: u16 = 1_024;
        const RASTER: u16 = 1_025;
        const CITATION: u16 = 1_026;
        const GEOGRAPHIC: u16 = 2_048;
        const PROJECTED: u16 = 3_072;
        const PROJECTED_CITATION: u16 = 3_073;
        const VERTICAL_UNITS: u16 = 4_099;
        const ASCII: u16 = 34_737;
        let directory = tags.words(Tag::GeoKeyDirectoryTag).unwrap_or_default();
        let words = tags.text(Tag::GeoAsciiParamsTag).unwrap_or_default();
        let entries = || directory.chunks_exact(4).skip(1);
        let short = |key: u16| {
            entries().find(|entry| entry[0] == key && entry[1] == 0).map(|entry| entry[3])
        };
        let text = |key: u16| {
            let entry = entries().find(|entry| entry[0] == key && entry[1] == ASCII)?;
            let (from, length) = (usize::from(entry[3]), usize::from(entry[2]));
            Some(words.get(from..(from + length).min(words.len()))?.trim_matches(['|', '\0', ' ']))
        };
        let model = match short(MODEL) {
            Some(1) => Some(Model::Projected),
            Some(2) => Some(Model::Geographic),
            _ => None,
        };
        // 0 is undefined, 32767 the maker's own
        let known = |code: Option<u16>| code.filter(|code| (1_024..=32_766).contains(code));
        let code = match model {
            Some(Model::Geographic) => known(short(GEOGRAPHIC)),
            _ => known(short(PROJECTED)),
        };
        let citation = text(PROJECTED_CITATION).or_else(|| text(CITATION));
        let wkt = words
            .split("ESRI PE String = ")
            .nth(1)
            .and_then(|rest| rest.split('|').next())
            .map(|wkt| wkt.trim().to_owned());
        Self {
            model,
            sampling: if short(RASTER) == Some(2) { Sampling::Point } else { Sampling::Area },
            code: code.map(u32::from),
            wkt,
            citation: citation
                .and_then(|text| text.split('|').next())
                .map(|name| name.trim_start_matches("PCS Name = ").to_owned())
                .filter(|name| !name.is_empty()),
            vertical_unit: match short(VERTICAL_UNITS) {
                Some(9_001) => Some(LengthUnit::Metre),
                Some(9_002) => Some(LengthUnit::Foot),
                Some(9_003) => Some(LengthUnit::SurveyFoot),
                Some(9_014) => Some(LengthUnit::Fathom),
                _ => None,
            },
        }
    }

    pub(super) fn crs(&self) -> LayerCrs {
        match (self.code, &self.wkt) {
            (Some(4_326), _) => LayerCrs::Wgs84,
            (Some(code), _) => LayerCrs::Epsg(code),
            (None, Some(wkt)) => LayerCrs::Prj(wkt.clone()),
            (None, None) => LayerCrs::Unknown,
        }
    }

    /// Where the raster lies: a cell size and one tie point, or a matrix.
    pub(super) fn place(
        &self,
        file: &str,
        tags: &mut Tags<'_, '_>,
    ) -> Option<Result<Place, Faults>> {
        let scale = tags.numbers(Tag::ModelPixelScaleTag);
        let tie = tags.numbers(Tag::ModelTiepointTag);
        if let (Some([width, height, ..]), Some([i, j, _, x, y, ..])) =
            (scale.as_deref(), tie.as_deref())
        {
            let matrix = [*width, 0.0, x - i * width, 0.0, -height, y + j * height];
            return Some(affine(file, matrix, self.sampling));
        }
        let matrix = tags.numbers(Tag::ModelTransformationTag)?;
        let [a, b, _, c, d, e, _, f, ..] = matrix[..] else { return None };
        Some(affine(file, [a, b, c, d, e, f], self.sampling))
    }
}
