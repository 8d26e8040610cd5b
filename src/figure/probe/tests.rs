use std::io::Cursor;
use std::sync::Arc;

use image::{DynamicImage, ImageFormat, RgbImage};
use proptest::prelude::*;

use super::probe;
use crate::figure::{FigureFault, FigureFile, FigureKind, orientation};
use crate::units::FigureName;

fn read(name: &str, bytes: &[u8]) -> Result<FigureFile, FigureFault> {
    probe(&FigureName::new(name), Arc::from(bytes))
}

/// A picture written by the image crate, a general-purpose library.
fn picture(width: u32, height: u32, format: ImageFormat) -> Vec<u8> {
    let pixels = RgbImage::from_fn(width, height, |x, y| image::Rgb([(x * 7) as u8, (y * 5) as u8, (x * y) as u8]));
    let mut bytes = Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(pixels).write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// A JPEG with an Exif note of one entry, the orientation (Exif 2.32, 4.5.4 and 4.6.4: tag 0x0112, type 3).
fn turned(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let mut note = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    note.extend([orientation, 0, 0, 0, 0, 0, 0]);
    let mut out = jpeg[..2].to_vec();
    out.extend([0xFF, 0xE1]);
    out.extend((note.len() as u16 + 2).to_be_bytes());
    out.extend(note);
    out.extend(&jpeg[2..]);
    out
}

#[test]
fn pictures_are_told_by_their_content() {
    let png = picture(30, 20, ImageFormat::Png);
    let jpeg = picture(30, 20, ImageFormat::Jpeg);
    let figure = read("a/b.png", &png).unwrap();
    assert_eq!((figure.kind, figure.width, figure.height), (FigureKind::Png, 30, 20));
    assert_eq!(&*figure.bytes, png);
    let figure = read("b.JPG", &jpeg).unwrap();
    assert_eq!((figure.kind, figure.width, figure.height, orientation(&figure)), (FigureKind::Jpeg, 30, 20, 1));
    assert_eq!(read("b.png", &jpeg).unwrap_err().headline, "the picture is a JPEG, and its name ends otherwise");
    assert!(read("b.png", &jpeg).unwrap_err().help.contains("`.jpg`"));
    for (bytes, headline) in [
        (&b"GIF89a.."[..], "the picture is GIF, which is not carried"),
        (b"RIFF\0\0\0\0WEBPVP8 ", "the picture is WebP, which is not carried"),
        (b"", "the picture file is empty"),
        (b"hello", "the file is no picture that is known here"),
    ] {
        assert_eq!(read("a.png", bytes).unwrap_err().headline, headline);
    }
}

#[test]
fn a_turned_photograph_has_the_size_it_is_shown_with() {
    let jpeg = picture(30, 20, ImageFormat::Jpeg);
    for (value, size) in [(1, (30, 20)), (3, (30, 20)), (6, (20, 30)), (8, (20, 30))] {
        let figure = read("a.jpg", &turned(&jpeg, value)).unwrap();
        assert_eq!(((figure.width, figure.height), orientation(&figure)), (size, value));
    }
}

#[test]
fn every_cut_is_found() {
    for (name, format) in [("a.png", ImageFormat::Png), ("a.jpg", ImageFormat::Jpeg)] {
        let bytes = picture(40, 30, format);
        for length in (4..bytes.len() - 1).step_by(7) {
            assert!(read(name, &bytes[..length]).is_err(), "{name} cut at {length} of {}", bytes.len());
        }
    }
    let mut bytes = picture(40, 30, ImageFormat::Png);
    let middle = bytes.len() / 2;
    bytes[middle] ^= 0x55;
    assert_eq!(read("a.png", &bytes).unwrap_err().headline, "the PNG picture is broken or cut off");
}

#[test]
fn a_huge_picture_is_refused_by_its_head() {
    // ISO/IEC 15948, 11.2.2: width and height stand in the first chunk; its check sum is not reached.
    let mut bytes = picture(4, 4, ImageFormat::Png);
    bytes[16..20].copy_from_slice(&40_000u32.to_be_bytes());
    bytes[20..24].copy_from_slice(&40_000u32.to_be_bytes());
    let fault = read("a.png", &bytes).unwrap_err();
    assert_eq!(fault.headline, "the picture has 40000 by 40000 pixels, more than are read");
    bytes[16..24].fill(0xFF);
    assert!(read("a.png", &bytes).unwrap_err().headline.contains("more than are read"));
}

proptest! {
    #[test]
    fn any_bytes_are_told(kind in 0..4usize, bytes: Vec<u8>) {
        let head: &[u8] = [&b""[..], b"\x89PNG\r\n\x1a\n", b"\xFF\xD8\xFF", b"<svg "][kind];
        let _ = read(["a.png", "a.png", "a.jpg", "a.svg"][kind], &[head, &bytes].concat());
    }

    #[test]
    fn a_changed_picture_breaks_nothing(at in 0..2000usize, to: u8, kind in 0..2usize) {
        let format = [ImageFormat::Png, ImageFormat::Jpeg][kind];
        let mut bytes = picture(16, 12, format);
        let at = at % bytes.len();
        bytes[at] = to;
        let _ = read(["a.png", "a.jpg"][kind], &bytes);
    }
}
