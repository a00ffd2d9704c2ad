//! Several files as one ZIP archive.

use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// An archive of files by name, in the order given; the same files give the same bytes.
///
/// # Errors
/// What kept it from being written, in words.
pub fn to_zip<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> Result<Vec<u8>, String> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(zip::DateTime::default());
    for (name, bytes) in files {
        archive.start_file(name, options).map_err(|error| format!("{name}: {error}"))?;
        archive.write_all(bytes).map_err(|error| format!("{name}: {error}"))?;
    }
    Ok(archive.finish().map_err(|error| error.to_string())?.into_inner())
}

#[cfg(test)]
mod tests {
    use super::to_zip;
    use std::io::{Cursor, Read};

    #[test]
    fn what_goes_into_an_archive_comes_out_of_it() {
        let files = [("a.txt", b"one".as_slice()), ("b.pdf", b"%PDF-1.7".as_slice())];
        let bytes = to_zip(files).unwrap();
        assert_eq!(bytes, to_zip(files).unwrap());
        let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        for (name, want) in files {
            let mut found = Vec::new();
            archive.by_name(name).unwrap().read_to_end(&mut found).unwrap();
            assert_eq!(found, want, "{name}");
        }
    }
}
