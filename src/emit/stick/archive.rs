//! The archive of a stick's folder. The same files give the same bytes.

use std::collections::BTreeMap;
use std::io::{Cursor, Write as _};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// A zip archive with every file below `folder`, in the order of the paths, at the format's first date.
///
/// # Errors
/// The archive's own words; a file beyond 4 GiB.
pub fn archive(folder: &str, files: &BTreeMap<String, Vec<u8>>) -> Result<Vec<u8>, String> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (path, bytes) in files {
        // Pictures and PDF are compressed already.
        let method = match path.rsplit_once('.').map(|(_, extension)| extension) {
            Some("pdf" | "jpg" | "png") => CompressionMethod::Stored,
            _ => CompressionMethod::Deflated,
        };
        let options = SimpleFileOptions::default()
            .compression_method(method)
            .last_modified_time(DateTime::default())
            .unix_permissions(0o644);
        zip.start_file(format!("{folder}/{path}"), options).map_err(|e| e.to_string())?;
        zip.write_all(bytes).map_err(|e| e.to_string())?;
    }
    zip.finish().map(Cursor::into_inner).map_err(|e| e.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_files_give_the_same_bytes_and_can_be_read_again() {
        let files = BTreeMap::from([("a/b.html".to_owned(), b"<p>".repeat(99)), ("c.pdf".to_owned(), vec![7; 9])]);
        let bytes = archive("KIT", &files).expect("an archive");
        assert_eq!(archive("KIT", &files).expect("an archive"), bytes);
        let mut read = zip::ZipArchive::new(Cursor::new(bytes)).expect("a zip file");
        let mut content = String::new();
        let mut file = read.by_name("KIT/a/b.html").expect("a file of the folder");
        std::io::Read::read_to_string(&mut file, &mut content).expect("it can be read");
        assert_eq!(content, "<p>".repeat(99));
    }
}
