//! Small GeoTIFFs, written after OGC 19-008r4.

use std::io::Cursor;
use tiff::encoder::colortype::{ColorType, Gray16, Gray32Float, GrayI16, RGB8};
use tiff::encoder::{Compression, Predictor, TiffEncoder, TiffValue};
use tiff::tags::Tag;

/// What is written beside the values.
#[derive(Default, Clone)]
pub(crate) struct Geo {
    pub(crate) scale: Option<[f64; 3]>,
    pub(crate) tie: Option<[f64; 6]>,
    pub(crate) matrix: Option<[f64; 16]>,
    pub(crate) keys: Vec<[u16; 4]>,
    pub(crate) ascii: Option<String>,
    pub(crate) nodata: Option<&'static str>,
    pub(crate) metadata: Option<&'static str>,
    pub(crate) compression: Compression,
    pub(crate) predicted: bool,
}

impl Geo {
    /// UTM zone 16 north, cells of 10 m from 300000, 4770000.
    pub(crate) fn utm() -> Self {
        Self {
            scale: Some([10.0, 10.0, 0.0]),
            tie: Some([0.0, 0.0, 0.0, 300_000.0, 4_770_000.0, 0.0]),
            keys: vec![[1_024, 0, 1, 1], [1_025, 0, 1, 1], [3_072, 0, 1, 32_616]],
            ..Self::default()
        }
    }
}

fn write<C: ColorType>(width: u32, height: u32, values: &[C::Inner], geo: &Geo) -> Vec<u8>
where
    [C::Inner]: TiffValue,
{
    let mut out = Cursor::new(Vec::new());
    let mut tiff = TiffEncoder::new(&mut out)
        .unwrap()
        .with_compression(geo.compression)
        .with_predictor(if geo.predicted { Predictor::Horizontal } else { Predictor::None });
    let mut image = tiff.new_image::<C>(width, height).unwrap();
    let tags = image.encoder();
    let mut numbers = |tag, numbers: Option<&[f64]>| {
        if let Some(numbers) = numbers {
            tags.write_tag(tag, numbers).unwrap();
        }
    };
    numbers(Tag::ModelPixelScaleTag, geo.scale.as_ref().map(|n| &n[..]));
    numbers(Tag::ModelTiepointTag, geo.tie.as_ref().map(|n| &n[..]));
    numbers(Tag::ModelTransformationTag, geo.matrix.as_ref().map(|n| &n[..]));
    let directory: Vec<u16> =
        [[1, 1, 0, geo.keys.len() as u16]].iter().chain(&geo.keys).flatten().copied().collect();
    if !geo.keys.is_empty() {
        tags.write_tag(Tag::GeoKeyDirectoryTag, &directory[..]).unwrap();
    }
    let mut text = |tag, text: Option<&str>| {
        if let Some(text) = text {
            tags.write_tag(tag, text).unwrap();
        }
    };
    text(Tag::GeoAsciiParamsTag, geo.ascii.as_deref());
    text(Tag::Unknown(42_112), geo.metadata);
    text(Tag::GdalNodata, geo.nodata);
    image.write_data(values).unwrap();
    out.into_inner()
}

pub(crate) fn floats(width: u32, height: u32, values: &[f32], geo: &Geo) -> Vec<u8> {
    write::<Gray32Float>(width, height, values, geo)
}

pub(crate) fn whole(width: u32, height: u32, values: &[i16], geo: &Geo) -> Vec<u8> {
    write::<GrayI16>(width, height, values, geo)
}

pub(crate) fn unsigned(width: u32, height: u32, values: &[u16], geo: &Geo) -> Vec<u8> {
    write::<Gray16>(width, height, values, geo)
}

pub(crate) fn colours(width: u32, height: u32, values: &[u8], geo: &Geo) -> Vec<u8> {
    write::<RGB8>(width, height, values, geo)
}
