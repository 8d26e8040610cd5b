//! Objects to bytes: streams as they are, everything else packed into object streams, and the table that finds them.
//!
//! Owns: the file's syntax (ISO 32000-1, 7.3 and 7.5). Packing runs in parallel, and structure elements are packed as
//! they are made, for a large manual has hundreds of thousands of them. Must not know: what objects mean.

use std::borrow::Borrow;
use std::collections::BTreeMap;
use std::io::Write;
use std::sync::Arc;

use lopdf::{Dictionary, Document, Object, Stream, StringFormat, dictionary};
use rayon::prelude::*;

use super::deflate;

/// Objects in an object stream.
pub const PACK: usize = 200;

/// An object stream, ready to be written.
pub struct Packed {
    ids: Vec<u32>,
    first: usize,
    data: Vec<u8>,
}

/// Packs objects by their numbers. None may be a stream.
pub fn pack<O: Borrow<Object>>(objects: impl Iterator<Item = (u32, O)>) -> Packed {
    let (mut ids, mut head, mut body) = (Vec::new(), String::new(), Vec::new());
    for (id, object) in objects {
        head.push_str(&format!("{id} {} ", body.len()));
        serialise(object.borrow(), &mut body);
        body.push(b'\n');
        ids.push(id);
    }
    let first = head.len();
    let mut content = head.into_bytes();
    content.append(&mut body);
    Packed { ids, first, data: deflate(&content) }
}

/// Where an object is to be found.
#[derive(Clone, Copy)]
enum Entry {
    Free,
    At(usize),
    In { stream: u32, index: usize },
}

/// About what stands around the data of a stream.
const HEAD: usize = 100;

/// The data of streams that stand in the document without it: photographs are held once.
pub type StreamData = BTreeMap<u32, Arc<[u8]>>;

/// Writes the document's objects and those packed before. The document is used up.
pub fn save(mut file: Document, packed: Vec<Packed>, pixels: &StreamData) -> Vec<u8> {
    let objects = std::mem::take(&mut file.objects);
    let (streams, plain): (Vec<_>, Vec<_>) = objects.into_iter().partition(|(_, o)| matches!(o, Object::Stream(_)));
    let plain: Vec<(u32, Object)> = plain.into_iter().map(|((id, _), object)| (id, object)).collect();
    let more: Vec<Packed> =
        plain.par_chunks(PACK).map(|chunk| pack(chunk.iter().map(|(id, object)| (*id, object)))).collect();
    drop(plain);

    let first_pack = file.max_id + 1;
    let table_id = first_pack + (packed.len() + more.len()) as u32;
    let mut entries = vec![Entry::Free; table_id as usize + 1];
    let contents = streams.iter().filter_map(|(_, o)| o.as_stream().ok()).map(|s| s.content.len() + HEAD);
    let packs = packed.iter().chain(&more).map(|p| p.data.len() + HEAD);
    let pictures = pixels.values().map(|data| data.len());
    let room = contents.chain(packs).chain(pictures).sum::<usize>() + entries.len();
    let mut out = Vec::with_capacity(room);
    out.extend_from_slice(b"%PDF-1.7\n%\xE2\xE3\xCF\xD3\n");
    for ((id, _), object) in streams {
        entries[id as usize] = Entry::At(out.len());
        match (object, pixels.get(&id)) {
            (Object::Stream(stream), Some(data)) => {
                out.extend_from_slice(format!("{id} 0 obj\n").as_bytes());
                serialise_stream(&stream.dict, data, &mut out);
                out.extend_from_slice(b"\nendobj\n");
            }
            (object, _) => indirect(id, &object, &mut out),
        }
    }
    for (n, pack) in packed.into_iter().chain(more).enumerate() {
        let stream_id = first_pack + n as u32;
        for (index, id) in pack.ids.iter().enumerate() {
            entries[*id as usize] = Entry::In { stream: stream_id, index };
        }
        entries[stream_id as usize] = Entry::At(out.len());
        let dict = dictionary! {
            "Type" => "ObjStm",
            "N" => pack.ids.len() as i64,
            "First" => pack.first as i64,
            "Filter" => "FlateDecode",
        };
        indirect(stream_id, &Object::Stream(Stream::new(dict, pack.data)), &mut out);
    }
    let start = out.len();
    entries[table_id as usize] = Entry::At(start);
    indirect(table_id, &table(&entries, &file.trailer), &mut out);
    // Writing to memory does not fail.
    let _ = write!(out, "startxref\n{start}\n%%EOF\n");
    out
}

/// The cross-reference stream (7.5.8): type in one byte, place in four, index or generation in two.
fn table(entries: &[Entry], trailer: &Dictionary) -> Object {
    let mut rows = Vec::with_capacity(entries.len() * 7);
    for (id, entry) in entries.iter().enumerate() {
        let (kind, place, index): (u8, u32, u16) = match *entry {
            Entry::Free => (0, 0, if id == 0 { 65_535 } else { 0 }),
            Entry::At(at) => (1, at as u32, 0),
            Entry::In { stream, index } => (2, stream, index as u16),
        };
        rows.push(kind);
        rows.extend(place.to_be_bytes());
        rows.extend(index.to_be_bytes());
    }
    let mut dict = dictionary! {
        "Type" => "XRef",
        "Size" => entries.len() as i64,
        "W" => Object::Array(vec![1.into(), 4.into(), 2.into()]),
        "Filter" => "FlateDecode",
    };
    for (key, value) in trailer.iter() {
        dict.set(key.clone(), value.clone());
    }
    Object::Stream(Stream::new(dict, deflate(&rows)))
}

fn indirect(id: u32, object: &Object, out: &mut Vec<u8>) {
    out.extend_from_slice(format!("{id} 0 obj\n").as_bytes());
    serialise(object, out);
    out.extend_from_slice(b"\nendobj\n");
}

fn serialise(object: &Object, out: &mut Vec<u8>) {
    match object {
        Object::Null => out.extend_from_slice(b"null"),
        Object::Boolean(value) => out.extend_from_slice(if *value { b"true" } else { b"false" }),
        Object::Integer(value) => out.extend_from_slice(value.to_string().as_bytes()),
        Object::Real(value) => out.extend_from_slice(value.to_string().as_bytes()),
        Object::Name(name) => serialise_name(name, out),
        Object::String(text, StringFormat::Literal) => {
            out.push(b'(');
            for &byte in text {
                match byte {
                    b'(' | b')' | b'\\' => out.extend_from_slice(&[b'\\', byte]),
                    b'\r' => out.extend_from_slice(b"\\r"),
                    _ => out.push(byte),
                }
            }
            out.push(b')');
        }
        Object::String(text, StringFormat::Hexadecimal) => {
            out.push(b'<');
            for byte in text {
                out.extend_from_slice(format!("{byte:02X}").as_bytes());
            }
            out.push(b'>');
        }
        Object::Array(items) => {
            out.push(b'[');
            for (i, item) in items.iter().enumerate() {
                if i > 0 {
                    out.push(b' ');
                }
                serialise(item, out);
            }
            out.push(b']');
        }
        Object::Dictionary(dict) => serialise_dictionary(dict, out),
        Object::Reference((id, generation)) => out.extend_from_slice(format!("{id} {generation} R").as_bytes()),
        Object::Stream(stream) => serialise_stream(&stream.dict, &stream.content, out),
    }
}

fn serialise_stream(dict: &Dictionary, content: &[u8], out: &mut Vec<u8>) {
    let mut dict = dict.clone();
    dict.set("Length", content.len() as i64);
    serialise_dictionary(&dict, out);
    out.extend_from_slice(b"\nstream\n");
    out.extend_from_slice(content);
    out.extend_from_slice(b"\nendstream");
}

fn serialise_dictionary(dict: &Dictionary, out: &mut Vec<u8>) {
    out.extend_from_slice(b"<<");
    for (key, value) in dict.iter() {
        serialise_name(key, out);
        out.push(b' ');
        serialise(value, out);
    }
    out.extend_from_slice(b">>");
}

fn serialise_name(name: &[u8], out: &mut Vec<u8>) {
    out.push(b'/');
    for &byte in name {
        if byte.is_ascii_graphic() && !b"()<>[]{}/%#".contains(&byte) {
            out.push(byte);
        } else {
            out.extend_from_slice(format!("#{byte:02X}").as_bytes());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Written by us, read by lopdf's own parser.
    #[test]
    fn every_kind_of_object_is_read_back_as_it_was() {
        let mut file = Document::with_version("1.7");
        let value = dictionary! {
            "Null" => Object::Null,
            "Odd name #1 (x)" => true,
            "Int" => -12,
            "Real" => 0.25f32,
            "Text" => Object::String(b"a(b)\\c\r\n".to_vec(), StringFormat::Literal),
            "Hex" => Object::String(vec![0xFE, 0xFF, 0, 65], StringFormat::Hexadecimal),
            "Array" => Object::Array(vec![1.into(), "Name".into(), Object::Array(vec![])]),
        };
        let kept = file.add_object(value.clone());
        let packed = file.new_object_id();
        let stream = file.add_object(Stream::new(dictionary! { "K" => kept }, b"content".to_vec()));
        let pages = file.add_object(dictionary! { "Type" => "Pages", "Count" => 0, "Kids" => Object::Array(vec![]) });
        let root = file.add_object(dictionary! { "Type" => "Catalog", "Pages" => pages });
        file.trailer = dictionary! { "Root" => root };
        let pack = pack([(packed.0, Object::Dictionary(value.clone()))].into_iter());
        let read = Document::load_mem(&save(file, vec![pack], &StreamData::new())).unwrap();
        assert_eq!(read.get_dictionary(kept).unwrap(), &value);
        assert_eq!(read.get_dictionary(packed).unwrap(), &value);
        assert_eq!(read.get_object(stream).unwrap().as_stream().unwrap().content, b"content");
    }
}
