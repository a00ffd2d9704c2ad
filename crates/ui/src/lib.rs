//! The screens, built from `web/` and carried in the program, and the typeface print uses.
//!
//! Nothing is computed or served here: [`asset`] hands out a file by its path, [`fonts`] the faces.
//! `build.rs` does the building; set `UI_DIST` to a folder of built screens to leave Node out of it.

include!(concat!(env!("OUT_DIR"), "/table.rs"));

/// One file of the screens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asset {
    /// Path below the root, without a leading slash.
    pub path: &'static str,
    /// Media type with charset.
    pub content_type: &'static str,
    /// Entity tag with its quotes; changes when the content does.
    pub etag: &'static str,
    /// Content.
    pub bytes: &'static [u8],
    /// The same, packed with Brotli; none where packing gains nothing.
    pub brotli: Option<&'static [u8]>,
    /// The same, packed with gzip.
    pub gzip: Option<&'static [u8]>,
}

impl Asset {
    /// True when the name carries a hash of the content, so that it may be kept for ever.
    pub fn is_immutable(&self) -> bool {
        self.path.starts_with("assets/")
    }
}

/// The file at a path such as `index.html` or `/assets/index-1a2b.js`.
pub fn asset(path: &str) -> Option<Asset> {
    let path = path.trim_start_matches('/');
    ASSETS.iter().find(|asset| asset.path == path).copied()
}

/// Every file, in order of path.
pub fn assets() -> &'static [Asset] {
    ASSETS
}

/// The faces of Atkinson Hyperlegible Next as TrueType: regular, italic, semi-bold, semi-bold
/// italic, bold, bold italic. Empty when a prebuilt folder came without them.
pub fn fonts() -> Vec<&'static [u8]> {
    FONTS.to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_page_is_there_with_and_without_a_leading_slash() {
        let page = asset("index.html").expect("a build without a first page does not compile");
        assert_eq!(Some(page), asset("/index.html"));
        assert_eq!(page.content_type, "text/html; charset=utf-8");
        assert!(!page.is_immutable());
    }

    #[test]
    fn a_path_outside_the_table_finds_nothing() {
        assert_eq!(asset("../Cargo.toml"), None);
        assert_eq!(asset(""), None);
    }

    #[test]
    fn entity_tags_are_quoted_as_rfc_9110_section_8_8_3_asks() {
        for asset in assets() {
            assert!(2 < asset.etag.len(), "{}", asset.path);
            assert!(asset.etag.starts_with('"') && asset.etag.ends_with('"'), "{}", asset.path);
        }
    }

    #[test]
    fn fonts_are_truetype_files() {
        // sfnt version 1.0, OpenType specification, `Organization of an OpenType font`.
        for font in fonts() {
            assert_eq!(font.get(..4), Some(&[0, 1, 0, 0][..]));
        }
    }
}
